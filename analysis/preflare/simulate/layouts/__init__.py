"""One module for each way in which the invented club keeps its logs. Each writes one file and says what mess is in it."""

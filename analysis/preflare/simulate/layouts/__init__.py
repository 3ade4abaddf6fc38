"""One module for each way in which the invented club keeps its logs: each writes one file and lists the mess in it."""

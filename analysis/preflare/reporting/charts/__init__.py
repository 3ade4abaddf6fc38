"""The charts: each drawn twice, for the page (8.5 in) and for the phone (3.7 in), with the same marks everywhere."""

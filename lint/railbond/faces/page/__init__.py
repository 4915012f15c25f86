"""The report as one HTML page: no script but a filter, nothing from outside, to be printed or opened on a phone."""

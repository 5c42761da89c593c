"""The report: one HTML file that opens offline, for a person and for print."""

"""What programs read: the state of an attempt for the page that waits, and problems as JSON."""

"""An invented school that fills Kingpost as a real one would: over HTTP, file by file."""

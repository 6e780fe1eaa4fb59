"""What coordinators want to get done, a module for each task."""

"""What teachers want to get done, a module for each task."""

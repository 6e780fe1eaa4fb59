"""What is printed of a contest: certificates and the booklet of results."""

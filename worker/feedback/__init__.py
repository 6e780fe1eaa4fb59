"""Feedback: drawings and printed sheets, made from briefs and outcomes alone."""

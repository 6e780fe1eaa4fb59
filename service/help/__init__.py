"""Help pages that are made from the code: what a rubric, a brief and a measure are, and the schemas for editors."""

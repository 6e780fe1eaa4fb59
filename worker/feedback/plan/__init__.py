"""The building plan: what a student builds from, made from a brief and a solved truss alone.

``pieces``   what to cut, and how each stick is cut up
``laying``   which sticks lie on which, and what meets at each joint
``steps``    how to build it, in short sentences
``outlines`` the side truss at full size: every stick as a rectangle of its true width
``tiles``    how the full-size plan is spread over pages
``labels``   names beside sticks and joints, on each page
``pages``    the pages as markup
``printing`` the whole as a PDF

Lengths are mm.  Plan coordinates are those of the brief: x from the left support, y up.
"""

"""The truss: its value, the two ways to write it, and what a brief asks of it.

``model``    the truss as a value
``table``    a spreadsheet's CSV as the same tree that YAML gives
``sections`` the blocks of the file (joints, members, ...) as values
``reader``   bytes -> Truss, or every problem of the file
``placing``  the brief's supports and loads put on the truss
``limits``   what the brief allows, and what of it the truss does not keep
"""

"""From a truss file to an outcome, in the order of the folders.

truss -> statics -> strength -> (measures, marks) -> advice -> feedback

``marker.mark`` does it all as one pure function; ``tasks`` only carries messages.
A worker needs the broker and nothing else: no database, no secret.
"""

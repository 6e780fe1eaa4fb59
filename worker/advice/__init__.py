"""What to try next, each suggestion solved again before it is made.

``changes``  small changes of a truss, each a pure function
``steps``    the few that help most, in words
``bracing``  where one more bar would stop a mechanism
"""

"""Who may sign in, and the proof that they may.

``passwords``  secrets and their hashes   ``sign_in``  tries, and the wait after wrong ones
``guards``     who is signed in, and what a page demands   ``enrol``  school, staff, classes
``aliases``    names for boards   ``pages``  signing in and out, choosing an alias
"""

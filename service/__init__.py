"""People, pages and records.  Computes nothing: what it needs computed it orders from a worker.

``records``   what is kept: models, migrations, queries
``people``    who may sign in, and the proof that they may
``classes``   the student's desk and the teacher's desk
``contest``   leaderboards
``api``       the state of an attempt for the page that waits
``sending``   orders out   ``recorder``  outcomes in   ``sweep``  what got lost, sent again
"""

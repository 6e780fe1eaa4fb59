"""A small kit for drawings as SVG text, for pages and sheets alike; it knows lines and words, and no mechanics.

``svg`` writes elements, ``boxes`` knows what is occupied, ``labels`` finds room for words, ``axis`` and ``heap`` place
values, ``palette`` holds colours and sizes, ``text`` makes the words of strangers safe.  ``charts`` and ``sticks``
draw plain numbers: attempts, the spread of a class, a leaderboard, the cutting of sticks.
"""

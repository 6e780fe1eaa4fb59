"""The truss file in three examples, as the help page prints them."""

YAML = """\
title: First try
units: mm
joints:
  a: [0, 0]
  b: [300, 0]
  c: [600, 0]
  d: [300, 150]
members:
  a-b: square5
  b-c: square5
  a-d: square5 x2
  d-c: square5 x2
  b-d: square5
"""

CSV = """\
title,First try
units,mm
joint,a,0,0
joint,b,300,0
joint,c,600,0
joint,d,300,150
member,a-b,square5
member,b-c,square5
member,a-d,square5 x2
member,d-c,square5 x2
member,b-d,square5
"""

WORKING = """\
working:
  reactions: {a: 50 up, c: 50 up}
  forces: {a-b: 100 T, a-d: 111.8 C, b-d: 100 T}
"""

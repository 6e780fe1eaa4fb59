"""Class lists from outside, read and laid beside what is here before anything is written.

``tables``     bytes of a CSV file or pasted text -> rows of cells
``columns``    rows -> which column holds what, as far as the headings or the cells say it
``pupils``     rows and columns -> pupils, and every problem with its line
``oneroster``  the class-list files of a OneRoster CSV 1.2 zip -> pupils by class
``plan``       pupils and the students who are here -> who is new, renamed, moved, gone
"""

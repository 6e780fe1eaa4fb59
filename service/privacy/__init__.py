"""What is kept of people, and how it goes.

``kept``     the one table of what is kept, why and how long     ``export``  all that is held about a pupil, as a zip
``erasing``  a pupil or a class with everything below            ``keeping`` classes that were not active for long
``traces``   what a deletion leaves in files and in the broker   ``doings``  the list of what was done in the office
``pages``    the pages of all these
"""

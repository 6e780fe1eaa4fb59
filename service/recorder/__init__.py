"""The recorder: the one process that takes outcomes in.

``intake``  plain functions: started, record
``app``     the Celery app of the queue 'outcomes' and its two tasks
"""

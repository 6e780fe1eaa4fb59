"""What service and worker say to each other: JSON through the broker, shaped here.

``names``     queue and task names
``orders``    what the service asks: mark a file, print a sheet, draw a brief, compare works
``report``    what the service asks of a class report
``outcomes``  what a worker answers
``likeness``  alike work: what is noted of a truss, compared and found
``settings``  the Celery settings both sides share, each beside the failure it prevents
``spool``     the embedded broker: messages as files in one folder
``over_redis``  the other broker: Redis
"""

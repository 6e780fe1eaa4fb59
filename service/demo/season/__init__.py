"""A whole season of an invented school: from hand-ins to certificates, played over HTTP on the real service.

``school`` says who hands in what, ``truth`` what scale and rig really show and the list that follows, ``day`` plays
the contest, ``papers`` saves what is printed, ``show`` runs all of it and reports.
"""

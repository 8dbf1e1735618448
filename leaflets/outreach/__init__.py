"""Pages of activities for school sheets about ears: a word search, and the way that wax takes out of the ear.

Pure: the same arguments give the same page. Nothing here knows a visit, a clinic or a leaflet.
"""

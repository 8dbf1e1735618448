"""From a plan to a leaflet: templates, the values they see, and the tree of the finished words."""

"""Turn a composed leaflet into files, on a machine that is fit for it.

What the machine must bring stands here, because the doors that look (`leaflets ready`) and the steps that refuse
(the first rendering) have to give the same remedy.
"""

WEASYPRINT_FROM = (70,)
"""The first version of WeasyPrint that the finishing of accessible documents was checked with."""

WEASYPRINT_BEFORE = (71,)
"""The first version of WeasyPrint that was not checked."""

INSTALL_WEASYPRINT = 'run: python -m pip install "weasyprint>=70,<71"'
INSTALL_LIBRARIES = "run: apt-get install libpango-1.0-0 libpangoft2-1.0-0"
INSTALL_SUBSETTER = "run: apt-get install libharfbuzz-subset0"
INSTALL_FONTS = "run: apt-get install fonts-noto-core && python -m leaflets.render.fonts"
INSTALL_BRAILLE = "run: apt-get install liblouis20 liblouis-data"

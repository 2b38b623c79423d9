"""The types of ``gambrel.demo_data``, whose files stand in the top folder ``demo_data``.

The build maps that folder into the package, which a type checker cannot see; this stub tells it.
"""

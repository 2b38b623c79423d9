"""The types of ``gambrel.assets``, whose code stands in the top folder ``assets``.

The build maps that folder into the package, which a type checker cannot see; this stub tells it.
"""

def data(name: str) -> bytes: ...
def text(name: str) -> str: ...

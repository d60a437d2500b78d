"""What stands at the foot of every printed sheet of a property.

Knows nothing of which pages are printed.
"""

from generator.views.property import PropertyView


def foot_of(view: PropertyView) -> str:
    """The line at the foot: which property, which state of its record, and when somebody last looked."""
    visit = view.glance.last_visit.isoformat() if view.glance and view.glance.last_visit else "none recorded"
    return f"{view.reference}, record revision {view.revision}, last visit {visit}"


def foot_style(line: str) -> str:
    """The style sheet that makes browsers repeat a line on every sheet, whatever is in the line."""
    safe = "".join(f"\\{ord(each):06x}" if each in '"\\<>&\n' else each for each in line)
    return f'<style>@page{{@bottom-left{{content:"{safe}"}}}}</style>'

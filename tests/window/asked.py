"""The dialogs in which a maker is asked for something, by how the window opens them."""

from studio.cut.parts import PARTS

DIALOGS = {
    "new": lambda window: window.files.new_design(),
    "name": lambda window: window.name_design(),
    "yoke": lambda window: window.adding.cut_yoke(),
    "join": lambda window: window.adding.join_edges(),
    "roll": lambda window: window.stash.new_roll(),
    "panel": lambda window: window.stash.new_panel(),
    "export": lambda window: window.export(),
    **{kind.__name__: lambda window, kind=kind: window.adding.add_part(kind) for kind in PARTS},
}

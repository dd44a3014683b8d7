"""The look of the window's widgets in a theme."""

from __future__ import annotations

from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QWidget

from studio.assets import asset_path
from studio.canvas.theme import DARK, LIGHT, Theme


def palette_of(theme: Theme) -> QPalette:
    """A palette for all widgets."""
    palette = QPalette()
    role = QPalette.ColorRole
    for name, colour in (
        (role.Window, theme.chrome),
        (role.WindowText, theme.ink),
        (role.Base, theme.field),
        (role.AlternateBase, theme.chrome),
        (role.Text, theme.ink),
        (role.Button, theme.chrome),
        (role.ButtonText, theme.ink),
        (role.ToolTipBase, theme.field),
        (role.ToolTipText, theme.ink),
        (role.PlaceholderText, theme.faint),
        (role.Highlight, theme.seam),
        (role.HighlightedText, theme.chrome),
        (role.Link, theme.seam),
    ):
        palette.setColor(name, QColor(colour))
    for name in (role.WindowText, role.Text, role.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, name, QColor(theme.faint))
    return palette


def theme_of(widget: QWidget) -> Theme:
    """The theme a widget is shown in."""
    return DARK if widget.palette().window().color().lightness() < 128 else LIGHT


def style_sheet_of(theme: Theme) -> str:
    """A style sheet for what a palette cannot say."""
    arrow = asset_path(f"arrow-{theme.name}.png").as_posix()
    return f"""
    QWidget {{ font-size: 10pt; }}
    QMainWindow::separator {{ background: {theme.border}; width: 1px; height: 1px; }}
    QMenuBar {{ background: {theme.chrome}; border-bottom: 1px solid {theme.border}; }}
    QMenuBar::item {{ padding: 5px 10px; background: transparent; }}
    QMenuBar::item:selected {{ background: {theme.border}; border-radius: 4px; }}
    QMenu {{ background: {theme.field}; border: 1px solid {theme.border}; padding: 4px; }}
    QMenu::item {{ padding: 5px 26px 5px 18px; border-radius: 4px; }}
    QMenu::item:selected {{ background: {theme.seam}; color: {theme.chrome}; }}
    QMenu::item:disabled {{ color: {theme.faint}; }}
    QMenu::separator {{ height: 1px; background: {theme.border}; margin: 4px 8px; }}
    QStatusBar {{ background: {theme.chrome}; border-top: 1px solid {theme.border};
                  color: {theme.faint}; }}
    QStatusBar::item {{ border: none; }}
    QScrollArea, QScrollArea > QWidget > QWidget {{ background: {theme.chrome}; border: none; }}
    QLabel[role="title"] {{ font-size: 11pt; font-weight: 600; color: {theme.ink}; }}
    QFrame[role="card"] {{ background: {theme.field}; border: 1px solid {theme.border};
        border-radius: 5px; }}
    QFrame[role="card"] QLabel {{ background: transparent; }}
    QLabel[role="faint"] {{ color: {theme.faint}; }}
    QLabel[role="grave"] {{ color: {theme.grave}; }}
    QLabel[role="head"] {{ color: {theme.faint}; font-size: 9pt; font-weight: 600;
                           padding-top: 2px; }}
    QPushButton {{ background: {theme.field}; color: {theme.ink};
        border: 1px solid {theme.border}; border-radius: 4px; padding: 4px 12px; }}
    QPushButton:hover {{ border-color: {theme.faint}; }}
    QPushButton:focus, QPushButton:default {{ border-color: {theme.seam}; }}
    QPushButton:disabled {{ color: {theme.faint}; background: transparent; }}
    QPushButton[role="stage"] {{ text-align: left; border: none; padding: 8px 10px;
        font-size: 10.5pt; font-weight: 600; background: transparent; color: {theme.ink};
        border-left: 3px solid transparent; }}
    QPushButton[role="stage"]:hover {{ background: {theme.border}; }}
    QPushButton[role="stage"]:checked {{ border-left: 3px solid {theme.work};
        background: {theme.field}; }}
    QPushButton[role="stage"]:focus {{ outline: none; background: {theme.border}; }}
    QPushButton[role="entry"] {{ text-align: left; border: none; padding: 4px 8px;
        border-radius: 4px; background: transparent; color: {theme.ink}; }}
    QPushButton[role="entry"]:hover {{ background: {theme.border}; }}
    QPushButton[role="entry"]:checked {{ background: {theme.seam}; color: {theme.chrome}; }}
    QPushButton[role="entry"]:focus {{ border: 1px solid {theme.seam}; padding: 3px 7px; }}
    QPushButton[role="primary"] {{ background: {theme.seam}; color: {theme.chrome};
        border: 1px solid {theme.seam}; border-radius: 4px; padding: 5px 14px; font-weight: 600; }}
    QPushButton[role="primary"]:focus {{ border-color: {theme.work}; }}
    QPushButton[role="offer"] {{ text-align: left; background: transparent; color: {theme.seam};
        border: 1px solid {theme.border}; border-radius: 4px; padding: 4px 9px; }}
    QPushButton[role="offer"]:hover, QPushButton[role="offer"]:focus {{
        border-color: {theme.seam}; }}
    QPushButton[role="pick"] {{ text-align: left; background: {theme.field}; color: {theme.ink};
        border: 1px solid {theme.border}; border-radius: 4px; padding: 4px 22px 4px 6px; }}
    QPushButton[role="pick"]:focus {{ border: 1px solid {theme.seam}; }}
    QPushButton[role="pick"]:disabled {{ color: {theme.faint}; }}
    QPushButton[role="pick"]::menu-indicator {{ image: url("{arrow}"); width: 10px; height: 6px;
        subcontrol-origin: padding; subcontrol-position: right center; right: 2px; }}
    QSpinBox, QDoubleSpinBox, QLineEdit, QPlainTextEdit, QComboBox {{
        background: {theme.field}; color: {theme.ink};
        border: 1px solid {theme.border}; border-radius: 4px; padding: 3px;
        selection-background-color: {theme.seam}; selection-color: {theme.chrome}; }}
    QComboBox::drop-down {{ border: none; width: 20px; }}
    QComboBox::down-arrow {{ image: url("{arrow}"); width: 10px; height: 6px; }}
    QSpinBox::up-button, QSpinBox::down-button, QDoubleSpinBox::up-button,
    QDoubleSpinBox::down-button {{ width: 0; border: none; }}
    QSpinBox QLineEdit, QDoubleSpinBox QLineEdit {{ border: none; padding: 0;
        background: transparent; }}
    QSpinBox:focus, QDoubleSpinBox:focus, QLineEdit:focus, QComboBox:focus {{
        border: 1px solid {theme.seam}; }}
    QTableView::item {{ padding: 0 8px; }}
    QTableView {{ background: {theme.field}; color: {theme.ink}; border: none;
        gridline-color: transparent; selection-background-color: {theme.seam};
        selection-color: {theme.chrome}; outline: none; }}
    QListView[role="findings"] {{ background: {theme.field}; color: {theme.ink};
        border: none; border-top: 1px solid {theme.border}; outline: none; }}
    QHeaderView::section {{ background: {theme.chrome}; color: {theme.faint}; border: none;
        border-bottom: 1px solid {theme.border}; padding: 4px 8px; font-weight: 600; }}
    QTableCornerButton::section {{ background: {theme.chrome}; border: none; }}
    QSplitter::handle {{ background: {theme.border}; }}
    QSplitter::handle:horizontal {{ width: 1px; }}
    QSplitter::handle:vertical {{ height: 1px; }}
    QToolButton[role="switch"] {{ border: 1px solid {theme.border}; padding: 4px 12px;
        background: {theme.field}; color: {theme.ink}; border-radius: 4px; }}
    QToolButton[role="small"] {{ border: 1px solid {theme.border}; padding: 4px 7px;
        background: {theme.field}; color: {theme.ink}; border-radius: 4px; }}
    QToolButton[role="small"]:disabled {{ color: {theme.faint}; background: transparent; }}
    QToolButton[role="small"]:focus {{ border-color: {theme.work}; }}
    QToolButton::menu-indicator {{ image: none; width: 0; }}
    QToolButton[role="switch"]:checked {{ background: {theme.seam}; color: {theme.chrome};
        border-color: {theme.seam}; }}
    QToolButton[role="switch"]:focus {{ border-color: {theme.work}; }}
    QCheckBox {{ spacing: 6px; }}
    QScrollBar:vertical {{ background: transparent; width: 9px; margin: 0; }}
    QScrollBar::handle:vertical {{ background: {theme.border}; border-radius: 4px;
        min-height: 28px; }}
    QScrollBar:horizontal {{ background: transparent; height: 9px; margin: 0; }}
    QScrollBar::handle:horizontal {{ background: {theme.border}; border-radius: 4px;
        min-width: 28px; }}
    QScrollBar::add-line, QScrollBar::sub-line {{ width: 0; height: 0; }}
    QScrollBar::add-page, QScrollBar::sub-page {{ background: transparent; }}
    """

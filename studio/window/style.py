"""The look of the window's widgets in a theme."""

from __future__ import annotations

from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QWidget

from studio.assets import asset_path
from studio.canvas.theme import DARK, LIGHT, Theme
from studio.canvas.type_size import base_points

_SIZES = 1.0, 1.1, 0.9, 1.05
"""How large plain words, titles, heads of lists and stages are, beside plain words."""


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
    """A style sheet for what a palette cannot say. Letters are as large as the desktop has them,
    and what has the focus wears a ring of two pixels, whatever it is.
    """
    arrow = asset_path(f"arrow-{theme.name}.png").as_posix()
    tick = asset_path(f"tick-{theme.name}.png").as_posix()
    plain, title, head, stage = (round(base_points() * share, 2) for share in _SIZES)
    return f"""
    QWidget {{ font-size: {plain}pt; }}
    QMainWindow::separator {{ background: {theme.border}; width: 1px; height: 1px; }}
    QMenuBar {{ background: {theme.chrome}; border-bottom: 1px solid {theme.border}; }}
    QMenuBar::item {{ padding: 5px 10px; background: transparent; }}
    QMenuBar::item:selected {{ background: {theme.border}; border-radius: 4px; }}
    QMenu {{ background: {theme.field}; border: 1px solid {theme.border}; padding: 4px; }}
    QMenu::item {{ padding: 5px 26px 5px 18px; border-radius: 4px; }}
    QMenu::item:selected {{ background: {theme.seam}; color: {theme.chrome}; }}
    QMenu::item:disabled {{ color: {theme.faint}; }}
    QMenu::separator {{ height: 1px; background: {theme.border}; margin: 4px 8px; }}
    QGraphicsView {{ border: 2px solid {theme.ground}; }}
    QGraphicsView[ringed="true"]:focus {{ border-color: {theme.seam}; }}
    QStatusBar {{ background: {theme.chrome}; border-top: 1px solid {theme.border};
                  color: {theme.faint}; }}
    QStatusBar::item {{ border: none; }}
    QScrollArea, QScrollArea > QWidget > QWidget {{ background: {theme.chrome}; border: none; }}
    QScrollArea {{ border: 2px solid {theme.chrome}; }}
    QScrollArea:focus {{ border-color: {theme.seam}; }}
    QLabel[role="title"] {{ font-size: {title}pt; font-weight: 600;
        color: {theme.ink}; }}
    QFrame[role="card"] {{ background: {theme.field}; border: 1px solid {theme.border};
        border-radius: 5px; }}
    QFrame[role="card"] QLabel {{ background: transparent; }}
    QLabel[role="term"] {{ font-weight: 600; }}
    QLabel[role="faint"] {{ color: {theme.faint}; }}
    QLabel[role="grave"] {{ color: {theme.grave}; }}
    QLabel[role="head"] {{ color: {theme.faint}; font-size: {head}pt; font-weight: 600;
                           padding-top: 2px; qproperty-indent: 0; }}
    QPushButton {{ background: {theme.field}; color: {theme.ink};
        border: 1px solid {theme.rim}; border-radius: 4px; padding: 4px 12px; }}
    QPushButton:hover {{ border-color: {theme.ink}; }}
    QPushButton:default {{ border-color: {theme.seam}; }}
    QPushButton:focus {{ border: 2px solid {theme.seam}; padding: 3px 11px; }}
    QPushButton:disabled {{ color: {theme.faint}; background: transparent;
        border-color: {theme.border}; }}
    QPushButton[role="stage"] {{ text-align: left; border: none; padding: 8px 10px;
        font-size: {stage}pt; font-weight: 600; background: transparent;
        color: {theme.ink}; border-left: 3px solid transparent; }}
    QPushButton[role="stage"]:hover {{ background: {theme.border}; }}
    QPushButton[role="stage"]:checked {{ border-left: 3px solid {theme.work};
        background: {theme.field}; }}
    QPushButton[role="stage"]:focus {{ outline: none; border: 2px solid {theme.seam};
        padding: 6px 8px 6px 9px; }}
    QPushButton[role="stage"]:focus:checked {{ border-left: 3px solid {theme.work};
        padding-left: 10px; }}
    QPushButton[role="entry"] {{ text-align: left; border: none; padding: 4px 8px;
        border-radius: 4px; background: transparent; color: {theme.ink}; }}
    QPushButton[role="entry"]:hover {{ background: {theme.border}; }}
    QPushButton[role="entry"]:checked {{ background: {theme.seam}; color: {theme.chrome}; }}
    QPushButton[role="entry"]:focus {{ border: 2px solid {theme.seam}; padding: 2px 6px; }}
    QPushButton[role="entry"]:focus:checked {{ border-color: {theme.work}; }}
    QPushButton[role="primary"] {{ background: {theme.seam}; color: {theme.chrome};
        border: 1px solid {theme.seam}; border-radius: 4px; padding: 5px 14px; font-weight: 600; }}
    QPushButton[role="primary"]:focus {{ border: 2px solid {theme.work}; padding: 4px 13px; }}
    QPushButton[role="primary"]:disabled {{ background: transparent; color: {theme.faint};
        border-color: {theme.border}; }}
    QPushButton[role="offer"] {{ text-align: left; background: transparent; color: {theme.seam};
        border: 1px solid {theme.rim}; border-radius: 4px; padding: 4px 9px; }}
    QPushButton[role="offer"]:hover {{ border-color: {theme.seam}; }}
    QPushButton[role="offer"]:focus {{ border: 2px solid {theme.seam}; padding: 3px 8px; }}
    QPushButton[role="offer"]:disabled {{ color: {theme.faint}; border-color: {theme.border}; }}
    QPushButton[role="pick"] {{ text-align: left; background: {theme.field}; color: {theme.ink};
        border: 1px solid {theme.rim}; border-radius: 4px; padding: 4px 22px 4px 6px; }}
    QPushButton[role="pick"]:focus {{ border: 2px solid {theme.seam};
        padding: 3px 21px 3px 5px; }}
    QPushButton[role="pick"]:disabled {{ color: {theme.faint}; border-color: {theme.border}; }}
    QPushButton[role="pick"]::menu-indicator {{ image: url("{arrow}"); width: 10px; height: 6px;
        subcontrol-origin: padding; subcontrol-position: right center; right: 2px; }}
    QSpinBox, QDoubleSpinBox, QLineEdit, QPlainTextEdit, QComboBox {{
        background: {theme.field}; color: {theme.ink};
        placeholder-text-color: {theme.faint};
        border: 1px solid {theme.rim}; border-radius: 4px; padding: 3px 5px;
        selection-background-color: {theme.seam}; selection-color: {theme.chrome}; }}
    QSpinBox:disabled, QDoubleSpinBox:disabled, QLineEdit:disabled, QComboBox:disabled {{
        color: {theme.faint}; background: transparent; border-color: {theme.border}; }}
    QComboBox::drop-down {{ border: none; width: 20px; }}
    QComboBox::down-arrow {{ image: url("{arrow}"); width: 10px; height: 6px; }}
    QSpinBox::up-button, QSpinBox::down-button, QDoubleSpinBox::up-button,
    QDoubleSpinBox::down-button {{ width: 0; border: none; }}
    QSpinBox QLineEdit, QDoubleSpinBox QLineEdit {{ border: none; padding: 0 3px 0 0;
        background: transparent; }}
    QSpinBox:focus, QDoubleSpinBox:focus, QLineEdit:focus, QPlainTextEdit:focus, QComboBox:focus {{
        border: 2px solid {theme.seam}; padding: 2px 4px; }}
    QSpinBox QLineEdit:focus, QDoubleSpinBox QLineEdit:focus {{ border: none;
        padding: 0 3px 0 0; }}
    QListWidget {{ background: {theme.field}; color: {theme.ink};
        border: 1px solid {theme.rim}; border-radius: 4px; padding: 3px; }}
    QListWidget:focus {{ border: 2px solid {theme.seam}; padding: 2px; }}
    QListWidget::item {{ padding: 2px; }}
    QTableView::item {{ padding: 0 6px; }}
    QTableView {{ background: {theme.field}; color: {theme.ink};
        border: 2px solid {theme.field};
        gridline-color: transparent; selection-background-color: {theme.seam};
        selection-color: {theme.chrome}; outline: none; }}
    QTableView:focus {{ border-color: {theme.seam}; }}
    QListView[role="findings"] {{ background: {theme.field}; color: {theme.ink};
        border: 2px solid {theme.field}; outline: none; }}
    QListView[role="findings"]:focus {{ border-color: {theme.seam}; }}
    QHeaderView::section {{ background: {theme.chrome}; color: {theme.faint}; border: none;
        border-bottom: 1px solid {theme.border}; padding: 4px 9px; font-weight: 600; }}
    QTableCornerButton::section {{ background: {theme.chrome}; border: none; }}
    QSplitter::handle {{ background: {theme.border}; }}
    QSplitter::handle:horizontal {{ width: 1px; }}
    QSplitter::handle:vertical {{ height: 1px; }}
    QToolButton[role="switch"] {{ border: 1px solid {theme.rim}; padding: 4px 12px;
        background: {theme.field}; color: {theme.ink}; border-radius: 4px; }}
    QToolButton[role="switch"]:hover {{ border-color: {theme.ink}; }}
    QToolButton[role="switch"]:checked {{ background: {theme.seam}; color: {theme.chrome};
        border-color: {theme.seam}; }}
    QToolButton[role="switch"]:focus {{ border: 2px solid {theme.seam}; padding: 3px 11px; }}
    QToolButton[role="switch"]:focus:checked {{ border-color: {theme.work}; }}
    QToolButton[role="small"] {{ border: 1px solid {theme.rim}; padding: 4px 7px;
        background: {theme.field}; color: {theme.ink}; border-radius: 4px; }}
    QToolButton[role="small"]:hover {{ border-color: {theme.ink}; }}
    QToolButton[role="small"]:disabled {{ color: {theme.faint}; background: transparent;
        border-color: {theme.border}; }}
    QToolButton[role="small"]:focus {{ border: 2px solid {theme.seam}; padding: 3px 6px; }}
    QToolButton::menu-indicator {{ image: none; width: 0; }}
    QCheckBox {{ spacing: 6px; border: 2px solid transparent; border-radius: 4px; }}
    QCheckBox:focus {{ border-color: {theme.seam}; }}
    QCheckBox:disabled {{ color: {theme.faint}; }}
    QCheckBox::indicator, QListWidget::indicator {{ width: 14px; height: 14px;
        border: 1px solid {theme.rim}; border-radius: 3px; background: {theme.field}; }}
    QCheckBox::indicator:checked, QListWidget::indicator:checked {{ image: url("{tick}");
        background: {theme.seam}; border-color: {theme.seam}; }}
    QCheckBox::indicator:disabled {{ border-color: {theme.border}; background: transparent; }}
    QSlider:horizontal {{ min-height: 20px; }}
    QSlider::groove:horizontal {{ height: 4px; border-radius: 2px; background: {theme.rim}; }}
    QSlider::sub-page:horizontal {{ border-radius: 2px; background: {theme.seam}; }}
    QSlider::handle:horizontal {{ width: 14px; margin: -6px 0; border-radius: 8px;
        background: {theme.field}; border: 1px solid {theme.rim}; }}
    QSlider::handle:horizontal:hover {{ border-color: {theme.ink}; }}
    QSlider::handle:horizontal:focus {{ background: {theme.seam}; border-color: {theme.ink}; }}
    QScrollBar:vertical {{ background: transparent; width: 10px; margin: 0; }}
    QScrollBar::handle:vertical {{ background: {theme.rim}; border-radius: 3px; margin: 1px;
        min-height: 28px; }}
    QScrollBar:horizontal {{ background: transparent; height: 10px; margin: 0; }}
    QScrollBar::handle:horizontal {{ background: {theme.rim}; border-radius: 3px; margin: 1px;
        min-width: 28px; }}
    QScrollBar::add-line, QScrollBar::sub-line {{ width: 0; height: 0; }}
    QScrollBar::add-page, QScrollBar::sub-page {{ background: transparent; }}
    QToolTip {{ background: {theme.field}; color: {theme.ink}; border: 1px solid {theme.rim};
        padding: 3px 5px; }}
    """

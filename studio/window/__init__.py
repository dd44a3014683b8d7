"""The desktop window: main window, panes, dialogs, history. Shows and asks, computes nothing."""

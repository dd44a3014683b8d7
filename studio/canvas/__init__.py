"""The Qt scene: the sheet, its items, gestures and tools. No geometry beyond hit-testing."""

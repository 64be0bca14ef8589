"""The screens: window, rooms, pages and widgets, all in Qt."""

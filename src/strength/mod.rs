//! Loads, member spans and joints; knows no code sections.

//! One finding per code rule: asked, found, verdict, section.

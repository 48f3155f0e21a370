//! Sheathing panels on each roof plane.

//! JSON, CSV and other files from the same values.

//! Tables, and one drawing value with several writers.

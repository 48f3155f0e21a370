//! Published tables as data, each row with its source key; computes nothing.

//! Cut plans, counts, fasteners, prices.

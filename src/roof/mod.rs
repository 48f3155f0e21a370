//! Planes and edges of a roof over its footprint; knows nothing of lumber.

//! Planes, lines, prisms trimmed by planes, polygons: the small exact kernel, which knows nothing of the trade.

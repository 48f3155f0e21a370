//! What the user asks for: flags or a roof file, defaults, and every fault found at once.

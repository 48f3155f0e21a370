//! Everything outside the crate's own unit tests, in one binary.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a test stops at the first surprise, helpers of tests too"
)]

mod answers;
mod any_roof;
mod any_tails;
mod attic;
mod check_by_hand;
mod checks;
mod circles;
mod code_figures;
mod comfort;
mod commands;
mod compare_apart;
mod compare_command;
mod compare_roofs;
mod cutting;
mod cutting_command;
mod deck_brute;
mod deck_cases;
mod deck_checker;
mod deck_command;
mod deck_rows;
mod documents;
mod exports;
mod first_screen;
mod fit_command;
mod fits;
mod fitted_in;
mod folders;
mod frames;
mod fuzzed;
mod hints;
mod hostile;
mod hung;
mod ids;
mod metric;
mod order_command;
mod order_goods;
mod order_sections;
mod order_together;
mod order_totals;
mod page;
mod page_rooms;
mod pattern_sheet;
mod pdf_page;
mod planes;
mod published;
mod rafters;
mod roof_words;
mod schema;
mod shed;
mod shed_dormers;
mod sheets;
mod spans_against_print;
mod spans_command;
mod spans_properties;
mod support;
mod template;
mod unlike;
mod worked_check;

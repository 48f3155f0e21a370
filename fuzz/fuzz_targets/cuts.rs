#![no_main]

#[path = "../bodies/mod.rs"]
#[allow(dead_code, reason = "every target is in it; one is run")]
mod bodies;

libfuzzer_sys::fuzz_target!(|data: &[u8]| (bodies::target("cuts").body)(data));

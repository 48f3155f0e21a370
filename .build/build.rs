//! Writes tables of data as Rust while stepoff is built: the code's rules, the walk around the roof,
//! the roof file's fields, the words that people try, the roles of sticks, and the order in which they go up.
#![allow(clippy::panic, reason = "data that can't be read stops the build and says where")]

mod erection;
mod fields;
mod hints;
mod roles;
mod rules;
mod walk;

use std::path::Path;
use std::{env, fs};

fn main() {
    let out = env::var_os("OUT_DIR").expect("cargo sets OUT_DIR");
    for (data, name, made) in [
        (rules::DATA, "rules.rs", rules::made as fn(&str) -> String),
        (fields::DATA, "fields.rs", fields::made),
        (hints::DATA, "hints.rs", hints::made),
        (roles::DATA, "roles.rs", roles::made),
        (roles::NAILING, "counted_by.rs", roles::counted_by),
        (erection::DATA, "erection.rs", erection::made),
        (walk::DATA, "walk.rs", walk::made),
    ] {
        println!("cargo::rerun-if-changed={data}");
        let text = fs::read_to_string(data).expect("the data is in the package");
        fs::write(Path::new(&out).join(name), made(&text)).expect("OUT_DIR can be written");
    }
    println!("cargo::rerun-if-changed=.build");
}

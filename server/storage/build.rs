//! Counts the migrations, which are embedded into the program, and rebuilds when one is added.

use std::{fs, io};

const FOLDERS: &str = "../../migrations/sqlite";

fn main() -> io::Result<()> {
    println!("cargo:rerun-if-changed={FOLDERS}");
    println!("cargo:rerun-if-changed=../../migrations/postgresql");
    let mut known = 0;
    for entry in fs::read_dir(FOLDERS)? {
        known += i64::from(entry?.file_type()?.is_dir());
    }
    println!("cargo:rustc-env=MIGRATIONS_KNOWN={known}");
    Ok(())
}

//! Rebuilds when a migration is added: the folders are embedded into the program.

fn main() {
    println!("cargo:rerun-if-changed=../../migrations/sqlite");
    println!("cargo:rerun-if-changed=../../migrations/postgresql");
}

//! Process start to exit of `ellwand shelf`, against a program with a clap command line that only opens the file: this
//! program again, with a hidden argument.

mod pairs;

use clap::Parser;
use std::{
    path::{Path, PathBuf},
    process::{Command, Stdio},
};

#[derive(Parser)]
struct Bare {
    /// Opens this file and ends.
    #[arg(long)]
    bare: Option<PathBuf>,
    #[arg(long, hide = true)]
    bench: bool,
}

fn run(program: &Path, arguments: &[&str], home: &Path) {
    let status = Command::new(program)
        .args(arguments)
        .env_clear()
        .env("HOME", home)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .expect("the program starts");
    assert!(status.success(), "{arguments:?}");
}

fn main() {
    let Bare { bare, bench: _ } = Bare::parse();
    if let Some(file) = bare {
        std::hint::black_box(std::fs::File::open(file).expect("the file opens"));
        return;
    }
    let home = tempfile::TempDir::new().expect("a temporary folder");
    let file = home.path().join("book.sqlite3");
    let path = file.to_str().expect("a plain path");
    let (own, this) = (
        Path::new(env!("CARGO_BIN_EXE_ellwand")),
        std::env::current_exe().expect("this program"),
    );
    let line = "material=linen,kind=cloth,paid=4m,price=40,full-width=150cm";
    run(
        own,
        &["--database", path, "buy", "--line", line],
        home.path(),
    );
    pairs::compare(
        "ellwand shelf, cold",
        200,
        "2",
        "bare",
        |_| run(own, &["--database", path, "shelf"], home.path()),
        |_| run(&this, &["--bare", path], home.path()),
    );
}

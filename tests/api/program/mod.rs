//! The program itself: its commands, messages and exit status.

mod database;
mod password;
mod serve;
mod settings;
mod tokens;

use std::{
    io::Read,
    path::Path,
    process::{Command, Output, Stdio},
    thread,
    time::{Duration, Instant},
};

fn program(folder: &Path, args: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_ellwand-server"));
    command
        .args(args)
        .env_clear()
        .current_dir(folder)
        .stdin(Stdio::null());
    command
}

/// Runs a command to its end; one that should have ended and serves instead fails the test.
#[track_caller]
pub fn run(folder: &Path, args: &[&str]) -> Output {
    let mut child = program(folder, args)
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // Read beside waiting, so that a long output does not fill the pipe.
    let (mut out, mut err) = (child.stdout.take().unwrap(), child.stderr.take().unwrap());
    let out = thread::spawn(move || read_all(&mut out));
    let err = thread::spawn(move || read_all(&mut err));
    let begun = Instant::now();
    let status = loop {
        if let Some(status) = child.try_wait().unwrap() {
            break status;
        }
        if begun.elapsed() > Duration::from_secs(30) {
            child.kill().unwrap();
            panic!("{args:?} did not end");
        }
        thread::sleep(Duration::from_millis(10));
    };
    Output {
        status,
        stdout: out.join().unwrap(),
        stderr: err.join().unwrap(),
    }
}

fn read_all(from: &mut impl Read) -> Vec<u8> {
    let mut all = Vec::new();
    from.read_to_end(&mut all).unwrap();
    all
}

#[track_caller]
pub fn assert_refused(output: &Output, status: i32, words: &str) {
    let report = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(status), "{report}");
    assert!(report.contains(words), "{report}");
    assert!(output.stdout.is_empty());
}

pub fn url(folder: &Path) -> String {
    format!("sqlite://{}", folder.join("book.sqlite3").display())
}

//! `ellwand shelf --watch`: a screen that follows the book.

use ellwand_service::{Book, Clock, Options};
use std::{
    cell::RefCell,
    io::{BufRead, BufReader},
    net::TcpListener,
    path::Path,
    process::{Child, Command, Stdio},
    sync::mpsc::{Receiver, channel},
    thread,
    time::Duration,
};
use tempfile::TempDir;

fn ellwand(folder: &Path, args: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_ellwand"));
    command
        .args(args)
        .env_clear()
        .env("HOME", folder)
        .current_dir(folder)
        .stdin(Stdio::null());
    command
}

fn buy(folder: &Path, place: &[&str], what: &str) {
    let line = format!("material={what},kind=trim,paid=3,price=1");
    let args = [&["buy", "--line", &line], place].concat();
    let output = ellwand(folder, &args).output().unwrap();
    assert!(output.status.success(), "{output:?}");
}

/// A command that watches, and the lines that it prints.
struct Watching {
    child: Child,
    lines: Receiver<String>,
    /// What was read so far: the two streams come in any order.
    seen: RefCell<Vec<String>>,
}

impl Watching {
    fn new(folder: &Path, place: &[&str]) -> Self {
        let mut command = ellwand(folder, &[&["shelf", "--watch"], place].concat());
        let mut child = command
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let (sender, lines) = channel();
        let (out, err) = (child.stdout.take().unwrap(), child.stderr.take().unwrap());
        let other = sender.clone();
        thread::spawn(move || {
            BufReader::new(out)
                .lines()
                .try_for_each(|line| sender.send(line.unwrap()))
        });
        thread::spawn(move || {
            BufReader::new(err)
                .lines()
                .try_for_each(|line| other.send(line.unwrap()))
        });
        Self {
            child,
            lines,
            seen: RefCell::default(),
        }
    }

    /// Reads on until a line says this.
    #[track_caller]
    fn until(&self, words: &str) {
        let mut seen = self.seen.borrow_mut();
        while !seen.iter().any(|line| line.contains(words)) {
            match self.lines.recv_timeout(Duration::from_secs(20)) {
                Ok(line) => seen.push(line),
                Err(error) => panic!("no line says \"{words}\": {error}; {seen:?}"),
            }
        }
    }
}

impl Drop for Watching {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

#[test]
fn a_screen_on_this_machine_follows_what_others_book() {
    let folder = TempDir::new().unwrap();
    let place = ["--database", "book.sqlite3"];
    buy(folder.path(), &place, "button");
    let watching = Watching::new(folder.path(), &place);
    watching.until("button");
    buy(folder.path(), &place, "hook");
    watching.until("hook");
    watching.until("B2 by owner: Bought 3 hook");
}

/// A server that goes and comes again on the same port: the screen says so and goes on.
#[test]
fn a_screen_outlives_its_server() {
    let folder = TempDir::new().unwrap();
    let url = format!(
        "sqlite://{}",
        folder.path().join("served.sqlite3").display()
    );
    let book = Book::open(
        &url,
        Options {
            clock: Clock::system(),
            create: true,
        },
    )
    .unwrap();
    let config = ellwand_server::Config {
        open: true,
        ..ellwand_server::Config::default()
    };
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let address = listener.local_addr().unwrap();
    let serve = |listener| ellwand_server::spawn(&config, book.clone(), listener).unwrap();
    let server = serve(listener);
    let server_url = server.url();
    let place = ["--server", &server_url];
    buy(folder.path(), &place, "button");
    let watching = Watching::new(folder.path(), &place);
    watching.until("button");
    server.stop().unwrap();
    watching.until("trying again");
    let _server = serve(TcpListener::bind(address).unwrap());
    buy(folder.path(), &place, "hook");
    watching.until("hook");
}

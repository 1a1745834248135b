//! Servers as processes of their own, and clients that never give up on a request.

use reqwest::blocking::{Client, Response};
use serde_json::{Value, json};
use std::{
    io::{BufRead, BufReader},
    process::{Child, Command, Stdio},
    thread,
    time::{Duration, Instant},
};
use uuid::Uuid;

/// Longest that a client goes on trying.
const PATIENCE: Duration = Duration::from_secs(120);

/// A server process; it is killed when it is dropped.
pub struct Served {
    child: Child,
    pub url: String,
}

/// Makes the book of an address.
pub fn migrate(database: &str) {
    let output = program(database, &["migrate"]).output().unwrap();
    assert!(output.status.success(), "{output:?}");
}

fn program(database: &str, args: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_ellwand-server"));
    command
        .args(args)
        .args(["--database", database])
        .env_clear()
        .stdin(Stdio::null());
    command
}

impl Served {
    /// Starts an open server on this port and waits until it listens.
    pub fn new(database: &str, port: u16) -> Self {
        let listen = format!("127.0.0.1:{port}");
        let args = ["serve", "--open", "--listen", &listen];
        let begun = Instant::now();
        loop {
            let mut child = program(database, &args)
                .stdout(Stdio::null())
                .stderr(Stdio::piped())
                .spawn()
                .unwrap();
            let mut lines = BufReader::new(child.stderr.take().unwrap())
                .lines()
                .map_while(Result::ok);
            if lines.any(|line| line.contains("listening on")) {
                // Read on, so that the log never fills the pipe.
                thread::spawn(move || lines.for_each(drop));
                return Self {
                    child,
                    url: format!("http://{listen}"),
                };
            }
            // The database may be away, or the port not yet free again.
            let _ = child.wait();
            assert!(begun.elapsed() < PATIENCE, "the server does not start");
            thread::sleep(Duration::from_millis(50));
        }
    }

    /// As the system asks it to stop; its exit status.
    pub fn ask_to_stop(&mut self) -> Option<i32> {
        let done = Command::new("kill")
            .args(["-TERM", &self.child.id().to_string()])
            .status();
        assert!(done.unwrap().success());
        self.child.wait().unwrap().code()
    }

    /// As the power goes.
    pub fn kill(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        self.kill();
    }
}

/// A client of servers that may go and come again.
pub struct Asking {
    client: Client,
}

impl Asking {
    pub fn new() -> Self {
        // A second call in the same process finds the first one's provider in place.
        let _ = rustls::crypto::ring::default_provider().install_default();
        let client = Client::builder()
            .tls_certs_only([])
            .no_proxy()
            .timeout(Duration::from_secs(20));
        Self {
            client: client.build().unwrap(),
        }
    }

    /// Sends a request under an id of its own until it is answered; its status and its answer.
    pub fn post(&self, url: &str, path: &str, body: Value) -> (u16, Value) {
        self.post_as(url, path, Uuid::now_v7(), body)
    }

    /// The same under this id. What got no answer, or one that says the book is away, is sent again as it was.
    pub fn post_as(&self, url: &str, path: &str, id: Uuid, body: Value) -> (u16, Value) {
        self.send(url, path, id, body, &[])
    }

    /// The same, marked as a repeat.
    pub fn repeat(&self, url: &str, path: &str, id: Uuid, body: Value) -> (u16, Value) {
        self.send(url, path, id, body, &[("ellwand-repeat", "true")])
    }

    fn send(
        &self,
        url: &str,
        path: &str,
        id: Uuid,
        mut body: Value,
        headers: &[(&'static str, &'static str)],
    ) -> (u16, Value) {
        body["id"] = json!(id);
        let begun = Instant::now();
        loop {
            let request = self.client.post(format!("{url}{path}")).json(&body);
            let request = headers.iter().fold(request, |request, (name, value)| {
                request.header(*name, *value)
            });
            let sent = request.send();
            match sent.and_then(read) {
                Ok((status, answer)) if status < 500 => return (status, answer),
                other => assert!(begun.elapsed() < PATIENCE, "no answer: {other:?}"),
            }
            thread::sleep(Duration::from_millis(20));
        }
    }

    pub fn get(&self, url: &str, path: &str) -> Value {
        let begun = Instant::now();
        loop {
            match self
                .client
                .get(format!("{url}{path}"))
                .send()
                .and_then(read)
            {
                Ok((200, answer)) => return answer,
                other => assert!(begun.elapsed() < PATIENCE, "no answer: {other:?}"),
            }
            thread::sleep(Duration::from_millis(20));
        }
    }

    #[track_caller]
    pub fn assert_sound(&self, url: &str) {
        let audit = self.get(url, "/v1/audit");
        assert_eq!(audit["findings"], json!([]));
    }
}

fn read(response: Response) -> reqwest::Result<(u16, Value)> {
    let status = response.status().as_u16();
    Ok((status, response.json()?))
}

/// How often a harness goes round: `short` in an everyday run, `long` where `TEST_LONG` is set.
#[expect(clippy::disallowed_methods, reason = "a setting of the tests")]
pub fn rounds(short: usize, long: usize) -> usize {
    if std::env::var("TEST_LONG").is_ok_and(|text| !text.is_empty()) {
        long
    } else {
        short
    }
}

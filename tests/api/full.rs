//! A disk that is full, and one that takes no writes: the server says so, answers who reads, and goes on when there is room
//! again. Needs leave to mount a small disk; where it is not given the test says so.

use crate::{
    cluster::port,
    served::{Asking, Served, migrate},
};
use reqwest::blocking::Client;
use serde_json::{Value, json};
use std::{
    fs,
    io::Write,
    path::Path,
    process::{Command, Stdio},
};
use tempfile::TempDir;
use uuid::Uuid;

/// A small disk in memory; it goes when it is dropped.
struct Disk(TempDir);

fn mount(args: &[&str]) -> bool {
    let mut command = Command::new("mount");
    command
        .args(args)
        .stdout(Stdio::null())
        .stderr(Stdio::null());
    command.status().is_ok_and(|status| status.success())
}

impl Disk {
    fn new() -> Option<Self> {
        let disk = Self(TempDir::new().unwrap());
        if mount(&[
            "-t",
            "tmpfs",
            "-o",
            "size=4m",
            "tmpfs",
            disk.path().to_str()?,
        ]) {
            return Some(disk);
        }
        let _ = writeln!(
            std::io::stderr(),
            "left out: a full disk, for want of leave to mount one"
        );
        None
    }

    fn path(&self) -> &Path {
        self.0.path()
    }

    /// Leaves no room at all.
    fn fill(&self) {
        let mut file = fs::File::create(self.path().join("filler")).unwrap();
        while file.write_all(&[0; 4096]).is_ok() {}
    }

    fn make_room(&self) {
        fs::remove_file(self.path().join("filler")).unwrap();
    }
}

impl Drop for Disk {
    fn drop(&mut self) {
        let _ = Command::new("umount")
            .arg("--lazy")
            .arg(self.path())
            .status();
    }
}

fn buy(client: &Client, url: &str) -> (u16, Value, Value) {
    let line = json!([{"material": {"kind": "trim", "name": "button"}, "paid": "3", "price": "1"}]);
    let body = json!({"id": Uuid::now_v7(), "line": line, "note": "x".repeat(2_000)});
    let response = client
        .post(format!("{url}/v1/purchases"))
        .json(&body)
        .send()
        .unwrap();
    (response.status().as_u16(), response.json().unwrap(), body)
}

#[test]
fn a_full_disk_is_reported_and_the_book_goes_on_when_there_is_room() {
    let Some(disk) = Disk::new() else { return };
    let database = format!("sqlite://{}", disk.path().join("book.sqlite3").display());
    migrate(&database);
    let server = Served::new(&database, port());
    let (asking, client) = (
        Asking::new(),
        Client::builder()
            .tls_certs_only([])
            .no_proxy()
            .build()
            .unwrap(),
    );
    assert_eq!(buy(&client, &server.url).0, 201);
    disk.fill();
    let mut booked = 1;
    // What was written before may have left some room in the files of the book itself.
    let (problem, refused) = loop {
        match buy(&client, &server.url) {
            (201, ..) => booked += 1,
            (status, problem, body) => {
                assert_eq!(status, 503, "{problem}");
                break (problem, body);
            }
        }
        assert!(booked < 2_000, "the disk is never full");
    };
    assert!(
        problem["detail"]
            .as_str()
            .unwrap()
            .contains("disk is full, nothing was booked"),
        "{problem}"
    );
    assert_eq!(asking.get(&server.url, "/health/live")["state"], "live");
    let ready = || {
        client
            .get(format!("{}/health/ready", server.url))
            .send()
            .unwrap()
    };
    let (status, problem) = (ready().status().as_u16(), ready().json::<Value>().unwrap());
    assert_eq!(
        (status, &problem["because"]),
        (503, &json!("disk-full")),
        "{problem}"
    );
    let bookings = || {
        asking.get(&server.url, "/v1/bookings?limit=500")["bookings"]
            .as_array()
            .unwrap()
            .len()
    };
    assert_eq!(
        bookings(),
        booked.min(500),
        "those who read are answered, and nothing is half there"
    );
    disk.make_room();
    assert_eq!(ready().status().as_u16(), 200);
    // The same request, as its hint says.
    let id = serde_json::from_value(refused["id"].clone()).unwrap();
    assert_eq!(
        asking.post_as(&server.url, "/v1/purchases", id, refused).0,
        201
    );
    assert_eq!(bookings(), (booked + 1).min(500));
    asking.assert_sound(&server.url);
}

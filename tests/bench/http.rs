//! A server under 16 clients: promises and their release against the same statements run bare, one durable commit each, and
//! the reading of a lot against an endpoint that reads nothing. Both sides in turn in one run; the clients share the
//! machine with the server.

mod bare;
mod client;
mod crowd;
mod statements;

use client::Client;
use crowd::{CLIENTS, crowd, fill, middle, pair};
use ellwand_server::{Config, spawn};
use ellwand_service::{Book, Clock, Options};
use rusqlite::Connection;
use std::{
    net::{SocketAddr, TcpListener},
    sync::atomic::{AtomicUsize, Ordering},
    time::{Duration, Instant},
};

const ROUNDS: usize = 5;
const TURN: Duration = Duration::from_secs(3);
/// Each pair takes a garment of its own, for a garment keeps its ended promises; the bare side takes them from the end.
const GARMENTS: usize = 24_000;

fn main() {
    let folder = tempfile::TempDir::new().expect("a temporary folder");
    let file = folder.path().join("book.sqlite3");
    let url = format!("sqlite://{}", file.display());
    let options = Options {
        clock: Clock::system(),
        create: true,
    };
    let book = Book::open_for_many(&url, options, 8).expect("a new book");
    fill(&book, GARMENTS);
    let config = Config {
        open: true,
        max_connections: 64,
        ..Config::default()
    };
    let listener = TcpListener::bind("127.0.0.1:0").expect("a port");
    let server = spawn(&config, book.clone(), listener).expect("a server");
    promises(server.address(), &bare::open(&file), &book);
    readings(server.address());
}

/// What a turn came to: a rate, and how long each took.
struct Turn {
    per_second: f64,
    times: Vec<Duration>,
}

impl Turn {
    fn of(mut times: Vec<Duration>, took: Duration) -> Self {
        times.sort_unstable();
        Self {
            per_second: times.len() as f64 / took.as_secs_f64(),
            times,
        }
    }

    fn at(&self, share: f64) -> Duration {
        let place = (self.times.len() as f64 * share) as usize;
        self.times
            .get(place.min(self.times.len().saturating_sub(1)))
            .copied()
            .unwrap_or_default()
    }
}

/// A turn of the crowd.
fn crowded(server: SocketAddr, once: impl Fn(&mut Client) + Sync) -> Turn {
    let (times, took) = crowd(server, TURN, once);
    Turn::of(times, took)
}

fn promises(server: SocketAddr, bare: &Connection, book: &Book) {
    let (pairs, mut alone_pairs) = (AtomicUsize::new(0), 0);
    let (mut own, mut base, mut slow) = (Vec::new(), Vec::new(), Vec::new());
    let before = book.written();
    for _ in 0..ROUNDS {
        let turn = crowded(server, |client| {
            pair(client, pairs.fetch_add(1, Ordering::Relaxed) % GARMENTS + 1);
        });
        let (begun, mut times) = (Instant::now(), Vec::new());
        while begun.elapsed() < TURN {
            let need = i64::try_from(GARMENTS - alone_pairs % GARMENTS).unwrap_or(1);
            alone_pairs += 1;
            let start = Instant::now();
            bare::bare_reserve(bare, need).expect("the bare reserve");
            bare::bare_release(bare, need).expect("the bare release");
            times.push(start.elapsed());
        }
        let alone = Turn::of(times, begun.elapsed());
        own.push(turn.per_second);
        base.push(alone.per_second);
        slow.push(turn.at(0.99).as_secs_f64() / alone.at(0.5).as_secs_f64());
    }
    let written = book.written();
    let shared = (written.jobs - before.jobs) as f64 / (written.commits - before.commits) as f64;
    let (own, base) = (middle(own), middle(base));
    println!(
        "reserve and release by {CLIENTS} clients: {own:.0}/s against {base:.0}/s bare = {:.2} (aim at least 1.5); \
         slowest hundredth {:.1} x the bare median (aim at most 20); {shared:.1} acts a commit",
        own / base,
        middle(slow)
    );
}

fn readings(server: SocketAddr) {
    let (mut own, mut base) = (Vec::new(), Vec::new());
    for _ in 0..ROUNDS {
        own.push(crowded(server, |client| client.get("/v1/lots/L1")).per_second);
        base.push(crowded(server, |client| client.get("/health/live")).per_second);
    }
    let (own, base) = (middle(own), middle(base));
    println!(
        "a lot by {CLIENTS} clients: {own:.0}/s against {base:.0}/s of nothing read = {:.2} (aim at least 0.5)",
        own / base
    );
}

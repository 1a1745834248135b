//! A server under 16 clients: promises and their release against the same statements run bare, one durable commit each, and
//! the reading of a lot against an endpoint that reads nothing. Both sides in turn in one run; the clients share the
//! machine with the server.

mod bare;
mod client;

use client::Client;
use ellwand_contract::{garments::PlanGarment, purchases::Buy};
use ellwand_server::{Config, spawn};
use ellwand_service::{Book, Caller, Clock, Options, Perform};
use rusqlite::Connection;
use serde_json::{Value, json};
use std::{
    net::{SocketAddr, TcpListener},
    sync::atomic::{AtomicUsize, Ordering},
    thread,
    time::{Duration, Instant},
};
use uuid::Uuid;

const CLIENTS: usize = 16;
const ROUNDS: usize = 5;
const TURN: Duration = Duration::from_secs(3);
/// Each pair takes a garment of its own, for a garment keeps its ended promises; the bare side takes them from the end.
const GARMENTS: usize = 24_000;

fn ask<A: Perform>(book: &Book, request: Value) {
    let act: A = serde_json::from_value(request).expect("the request is well formed");
    book.call(&Caller::owner("owner"), &act).expect("the act is accepted");
}

fn main() {
    let folder = tempfile::TempDir::new().expect("a temporary folder");
    let file = folder.path().join("book.sqlite3");
    let url = format!("sqlite://{}", file.display());
    let options = Options { clock: Clock::system(), create: true };
    let book = Book::open_for_many(&url, options, 8).expect("a new book");
    let linen = json!({"kind": "cloth", "name": "linen", "full_width": "150cm",
        "shrinkage": {"length": "5%", "width": "2%"}});
    let line = json!([{"material": linen, "paid": "4000m", "price": "40000"}]);
    ask::<Buy>(&book, json!({"id": Uuid::now_v7(), "line": line}));
    let need = json!([{"role": "shell", "kind": "cloth", "length": "2.6m", "width": "140cm", "preparation": "washed"}]);
    for _ in 0..GARMENTS {
        ask::<PlanGarment>(&book, json!({"id": Uuid::now_v7(), "name": "dress", "need": need}));
    }
    let config = Config { open: true, max_connections: 64, ..Config::default() };
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
        Self { per_second: times.len() as f64 / took.as_secs_f64(), times }
    }

    fn at(&self, share: f64) -> Duration {
        let place = (self.times.len() as f64 * share) as usize;
        self.times.get(place.min(self.times.len().saturating_sub(1))).copied().unwrap_or_default()
    }
}

/// 16 clients at once, each as often as it can for a turn.
fn crowd(server: SocketAddr, once: impl Fn(&mut Client) + Sync) -> Turn {
    let begun = Instant::now();
    let times = thread::scope(|scope| {
        let clients: Vec<_> = (0..CLIENTS)
            .map(|_| {
                let once = &once;
                scope.spawn(move || {
                    let mut client = Client::new(server);
                    let mut times = Vec::new();
                    while begun.elapsed() < TURN {
                        let start = Instant::now();
                        once(&mut client);
                        times.push(start.elapsed());
                    }
                    times
                })
            })
            .collect();
        clients.into_iter().flat_map(|client| client.join().expect("a client that lives")).collect()
    });
    Turn::of(times, begun.elapsed())
}

fn middle(mut numbers: Vec<f64>) -> f64 {
    numbers.sort_by(f64::total_cmp);
    numbers.get(numbers.len() / 2).copied().unwrap_or_default()
}

fn promises(server: SocketAddr, bare: &Connection, book: &Book) {
    let (pairs, mut alone_pairs) = (AtomicUsize::new(0), 0);
    let (mut own, mut base, mut slow) = (Vec::new(), Vec::new(), Vec::new());
    let before = book.written();
    for _ in 0..ROUNDS {
        let turn = crowd(server, |client| {
            let garment = format!("G{}", pairs.fetch_add(1, Ordering::Relaxed) % GARMENTS + 1);
            let picks = json!([{"need": "shell", "piece": "L1.1"}]);
            let id = Uuid::now_v7();
            let reserve = json!({"id": id, "garment": garment, "picks": picks});
            client.post("/v1/reservations", &reserve.to_string());
            let release = json!({"id": Uuid::now_v7(), "garment": garment});
            client.post("/v1/reservations/release", &release.to_string());
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
        own.push(crowd(server, |client| client.get("/v1/lots/L1")).per_second);
        base.push(crowd(server, |client| client.get("/health/live")).per_second);
    }
    let (own, base) = (middle(own), middle(base));
    println!(
        "a lot by {CLIENTS} clients: {own:.0}/s against {base:.0}/s of nothing read = {:.2} (aim at least 0.5)",
        own / base
    );
}

//! A shelf of 100 000 pieces and a ledger of 2 000 000 movements against one of 1 000 and 20 000, in turn in one run; and the
//! memory of a server on the large one.

mod client;
mod grown;
mod pairs;

use client::Client;
use ellwand_contract::{
    costs::GetCost,
    garments::{GetCandidates, PlanGarment},
    reservations::{Release, Reserve},
    shelf::GetShelf,
};
use ellwand_service::Book;
use grown::{ask, grown};
use pairs::compare;
use serde_json::json;
use std::{
    fs,
    net::{SocketAddr, TcpListener, TcpStream},
    path::Path,
    process::{Child, Command, Stdio},
    thread,
    time::{Duration, Instant},
};
use uuid::Uuid;

const RUNS: usize = 200;
const CLIENTS: usize = 16;
const SMALL: i64 = 1_000;
const LARGE: i64 = 100_000;

fn main() {
    let folder = tempfile::TempDir::new().expect("a temporary folder");
    let (small, large) = (
        folder.path().join("small.sqlite3"),
        folder.path().join("large.sqlite3"),
    );
    let begun = Instant::now();
    let (few, many) = (grown(&small, SMALL), grown(&large, LARGE));
    let bytes = fs::metadata(&large).expect("a file").len();
    println!(
        "a book of {LARGE} pieces: {} MB, made and audited in {:.1?}",
        bytes / 1_000_000,
        begun.elapsed()
    );
    for (title, request) in [
        ("first page of the shelf", json!({})),
        (
            "page of the shelf after its middle",
            json!({"after": "L1.5"}),
        ),
        ("long pieces on the shelf", json!({"free_min": "8m"})),
    ] {
        let page = |book: &Book| drop(std::hint::black_box(ask::<GetShelf>(book, request.clone())));
        compare(
            title,
            RUNS,
            "1.3",
            "on the small one",
            |_| page(&many),
            |_| page(&few),
        );
    }
    let need = json!([{"role": "shell", "kind": "cloth", "length": "2.6m", "width": "140cm", "preparation": "washed"}]);
    let plan = |book: &Book| {
        let garment = ask::<PlanGarment>(
            book,
            json!({"id": Uuid::now_v7(), "name": "dress", "need": need}),
        );
        garment.garment.to_string()
    };
    let (one, other) = (plan(&many), plan(&few));
    let look = |book: &Book, garment: &str| {
        drop(std::hint::black_box(ask::<GetCandidates>(
            book,
            json!({"garment": garment}),
        )));
    };
    let aside = "on the small one";
    compare(
        "candidates",
        RUNS,
        "1.3",
        aside,
        |_| look(&many, &one),
        |_| look(&few, &other),
    );
    let promise = |book: &Book, garment: &str| {
        let picks = json!([{"need": "shell", "piece": "L1.10"}]);
        ask::<Reserve>(
            book,
            json!({"id": Uuid::now_v7(), "garment": garment, "picks": picks}),
        );
        ask::<Release>(book, json!({"id": Uuid::now_v7(), "garment": garment}));
    };
    compare(
        "reserve and release",
        RUNS,
        "1.3",
        aside,
        |_| promise(&many, &one),
        |_| promise(&few, &other),
    );
    let sheet = |book: &Book| {
        drop(std::hint::black_box(ask::<GetCost>(
            book,
            json!({"garment": "G1"}),
        )))
    };
    compare(
        "cost",
        RUNS,
        "1.3",
        aside,
        |_| sheet(&many),
        |_| sheet(&few),
    );
    let garments: Vec<String> = (0..CLIENTS).map(|_| plan(&many)).collect();
    drop((few, many));
    memory(&large, &garments);
}

/// The server's program on a book; it ends with the value.
struct Server(Child);

impl Drop for Server {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

impl Server {
    fn on(file: &Path) -> (Self, SocketAddr) {
        let address = TcpListener::bind("127.0.0.1:0")
            .and_then(|free| free.local_addr())
            .expect("a free port");
        let mut command = Command::new(env!("CARGO_BIN_EXE_ellwand-server"));
        command.args(["serve", "--open", "--listen", &address.to_string()]);
        command.args(["--database", &format!("sqlite://{}", file.display())]);
        let server = Self(
            command
                .stdout(Stdio::null())
                .stderr(Stdio::null())
                .spawn()
                .expect("a server"),
        );
        while TcpStream::connect(address).is_err() {
            thread::sleep(Duration::from_millis(20));
        }
        (server, address)
    }

    /// Megabytes of memory that are its own or shared now.
    fn megabytes(&self) -> f64 {
        let status =
            fs::read_to_string(format!("/proc/{}/status", self.0.id())).unwrap_or_default();
        let line = status.lines().find_map(|line| line.strip_prefix("VmRSS:"));
        let kilobytes = line.and_then(|line| {
            line.trim()
                .trim_end_matches("kB")
                .trim()
                .parse::<f64>()
                .ok()
        });
        kilobytes.map_or(f64::NAN, |kilobytes| kilobytes / 1_024.0)
    }
}

/// Memory of a server that has only started, and of one that 16 clients ask for pages, lots, candidates and sheets, and for
/// promises to a garment each.
fn memory(file: &Path, garments: &[String]) {
    let (server, address) = Server::on(file);
    thread::sleep(Duration::from_secs(1));
    let idle = server.megabytes();
    let begun = Instant::now();
    let most = thread::scope(|scope| {
        for (number, garment) in garments.iter().enumerate() {
            scope.spawn(move || {
                let mut client = Client::new(address);
                let (candidates, cost) = (
                    format!("/v1/garments/{garment}/candidates"),
                    "/v1/garments/G1/cost",
                );
                while begun.elapsed() < Duration::from_secs(10) {
                    for path in ["/v1/shelf", "/v1/lots/L1", &candidates, cost] {
                        client.get(path);
                    }
                    // The last piece of a copied lot each.
                    let picks =
                        json!([{"need": "shell", "piece": format!("L{}.10", 1 + number * 1_000)}]);
                    let reserve = json!({"id": Uuid::now_v7(), "garment": garment, "picks": picks});
                    client.post("/v1/reservations", &reserve.to_string());
                    let release = json!({"id": Uuid::now_v7(), "garment": garment});
                    client.post("/v1/reservations/release", &release.to_string());
                }
            });
        }
        let mut most = idle;
        while begun.elapsed() < Duration::from_secs(10) {
            thread::sleep(Duration::from_millis(100));
            most = server.megabytes().max(most);
        }
        most
    });
    println!(
        "memory of a server: {idle:.0} MB idle (aim 30), {most:.0} MB under {CLIENTS} clients (aim 150)"
    );
}

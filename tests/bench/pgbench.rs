//! A server on PostgreSQL under 16 clients: promises and their release against pgbench, which runs the same statements on
//! as many connections to the same database and tries again at once when it loses. Both sides in turn in one run; clients,
//! server and database share the machine.

#[expect(dead_code, reason = "nothing is read here")]
mod client;
#[path = "../api/cluster.rs"]
#[expect(
    dead_code,
    clippy::unwrap_used,
    reason = "of the tests, which kill theirs and encrypt it"
)]
mod cluster;
mod crowd;
mod statements;

use cluster::Cluster;
use crowd::{CLIENTS, crowd, fill, middle, pair};
use ellwand_server::{Config, spawn};
use ellwand_service::{Book, Clock, Options};
use statements::{FILLERS, RELEASE, RESERVE, Statements};
use std::{
    fs,
    net::TcpListener,
    path::PathBuf,
    process::Command,
    sync::atomic::{AtomicUsize, Ordering},
    time::Duration,
};
use tempfile::TempDir;

const ROUNDS: usize = 5;
const TURN: Duration = Duration::from_secs(5);
const GARMENTS: usize = 3_000;
/// What the last turn of pgbench left promised when its time was over is given back, so that the acts find the piece free.
const TIDY: &str = "
    UPDATE reservations SET state = 'released', held = 0, ended_by = booking_id WHERE state = 'active';
    UPDATE pieces SET held = 0, longest_free = quantity;
    UPDATE stretches SET held = 0;
";

fn main() {
    if cluster::programs().is_none() {
        eprintln!("left out: promises against pgbench, for want of TEST_POSTGRESQL_PROGRAMS");
        return;
    }
    let cluster = Cluster::new();
    let Some(pgbench) = Pgbench::beside(&cluster) else {
        eprintln!(
            "left out: promises against pgbench, for want of one that tries again (PostgreSQL 15)"
        );
        return;
    };
    let options = Options {
        clock: Clock::system(),
        create: true,
    };
    let connections = u32::try_from(CLIENTS).expect("a small number");
    let book = Book::open_for_many(&cluster.url, options, connections).expect("a new book");
    fill(&book, GARMENTS);
    pgbench.run(&["-t", "1"], "VACUUM ANALYZE;");
    let config = Config {
        open: true,
        max_connections: 64,
        ..Config::default()
    };
    let listener = TcpListener::bind("127.0.0.1:0").expect("a port");
    let server = spawn(&config, book, listener).expect("a server");
    let pairs = AtomicUsize::new(0);
    let (mut own, mut base, mut again, mut alone) =
        (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    for _ in 0..ROUNDS {
        let (times, took) = crowd(server.address(), TURN, |client| {
            pair(client, pairs.fetch_add(1, Ordering::Relaxed) % GARMENTS + 1);
        });
        own.push(times.len() as f64 / took.as_secs_f64());
        let bare = pgbench.pairs(CLIENTS);
        base.push(bare.per_second);
        again.push(bare.tries_again);
        alone.push(pgbench.pairs(1).per_second);
    }
    let (own, base) = (middle(own), middle(base));
    println!(
        "reserve and release by {CLIENTS} clients on PostgreSQL: {own:.0}/s against {base:.0}/s by pgbench = {:.2} \
         (aim at least 0.9; there each transaction is tried {:.1} times again); a client of pgbench that is alone and \
         never loses: {:.0}/s",
        own / base,
        middle(again),
        middle(alone)
    );
}

/// PostgreSQL's own program for timing statements.
struct Pgbench {
    program: PathBuf,
    url: String,
    folder: TempDir,
}

/// What pgbench came to.
struct Bare {
    per_second: f64,
    tries_again: f64,
}

impl Pgbench {
    fn beside(cluster: &Cluster) -> Option<Self> {
        let program = cluster.bin.join("pgbench");
        let help = Command::new(&program).arg("--help").output().ok()?;
        let folder = TempDir::new().expect("a temporary folder");
        String::from_utf8_lossy(&help.stdout)
            .contains("--max-tries")
            .then(|| Self {
                program,
                url: cluster.url.clone(),
                folder,
            })
    }

    fn run(&self, args: &[&str], script: &str) -> String {
        let file = self.folder.path().join("script.sql");
        fs::write(&file, script).expect("a script");
        let output = Command::new(&self.program)
            .arg("-n")
            .args(args)
            .arg("-f")
            .args([file.as_os_str(), self.url.as_ref()])
            .output()
            .expect("a program that starts");
        assert!(
            output.status.success(),
            "{}",
            String::from_utf8_lossy(&output.stderr)
        );
        String::from_utf8_lossy(&output.stdout).into_owned()
    }

    /// A turn of reserves and releases. When pgbench loses it runs the script anew from its top, also what it had committed.
    /// So a run of the script is one transaction, a reserve or else the release of what the client's run before it had
    /// reserved, and a pair is two runs.
    fn pairs(&self, clients: usize) -> Bare {
        let (clients, time) = (clients.to_string(), TURN.as_secs().to_string());
        let script = format!(
            "\\if :promised = 0\n\\set need random(1, {GARMENTS})\n{}\\set promised 1\n\
             \\else\n{}\\set promised 0\n\\endif\n",
            transaction(&RESERVE),
            transaction(&RELEASE)
        );
        let args = [
            "-M",
            "prepared",
            "-c",
            &clients,
            "-j",
            "2",
            "-T",
            &time,
            "--max-tries=0",
        ];
        let report = self.run(&[&args[..], &["-D", "promised=0"]].concat(), &script);
        self.run(&["-t", "1"], TIDY);
        let number = |before: &str| -> f64 {
            let line = report
                .lines()
                .find_map(|line| line.strip_prefix(before))
                .expect(before);
            let digits = line.split_whitespace().next().unwrap_or_default();
            digits.parse().expect("a number")
        };
        assert_eq!(number("number of failed transactions: "), 0.0, "{report}");
        Bare {
            per_second: number("tps = ") / 2.0,
            tries_again: number("total number of retries: ")
                / number("number of transactions actually processed: "),
        }
    }
}

/// The statements as pgbench takes them.
fn transaction(act: &Statements) -> String {
    let mut text = "BEGIN ISOLATION LEVEL SERIALIZABLE;\n".to_owned();
    for sql in act.texts.iter().copied().flatten() {
        // Its numbers come back into pgbench's variables.
        let end = if sql.contains("RETURNING") {
            " \\gset"
        } else {
            ";"
        };
        text.extend([sql, end, "\n"]);
    }
    // As a query of its own it is asked once; a condition would ask it anew for each row.
    text = text.replace(":request", "(SELECT gen_random_uuid()::text)");
    text = text
        .replace(":kind", &format!("'{}'", act.kind))
        .replace(":held", &act.held.to_string());
    for (name, length) in FILLERS {
        text = text.replace(
            name,
            &format!("'{{\"filler\":\"' || repeat('x', {length}) || '\"}}'"),
        );
    }
    text + "COMMIT;\n"
}

//! A book on a PostgreSQL that takes no connection in the clear.

use crate::{
    certificate::Certificate,
    cluster::Cluster,
    program::{assert_refused, run},
};
use ellwand_contract::shelf::GetShelf;
use ellwand_service::{Book, Caller, Clock, Options};
use std::fs;
use tempfile::TempDir;

#[needs::variable(TEST_POSTGRESQL_PROGRAMS)]
#[test]
fn a_database_is_reached_by_tls_when_its_certificate_is_trusted() {
    let certificate = Certificate::of(&["127.0.0.1"]);
    let cluster = Cluster::encrypted(&certificate.own, &certificate.key);
    let folder = TempDir::new().unwrap();
    let trusted = folder.path().join("authority.pem");
    fs::write(&trusted, certificate.authority).unwrap();
    let stranger = folder.path().join("stranger.pem");
    fs::write(&stranger, Certificate::of(&["127.0.0.1"]).authority).unwrap();
    let address = |file: &std::path::Path| {
        format!(
            "{}?sslmode=verify-full&sslrootcert={}",
            cluster.url,
            file.display()
        )
    };
    let migrate = |url: &str| run(folder.path(), &["migrate", "--database", url]);
    assert_refused(&migrate(&cluster.url), 3, "pg_hba.conf");
    assert_refused(&migrate(&address(&stranger)), 3, "certificate");
    // The name is another one, though the machine is the same.
    let named = address(&trusted).replace("127.0.0.1", "localhost");
    assert_refused(&migrate(&named), 3, "certificate");
    assert_refused(
        &migrate(&address(&folder.path().join("none.pem"))),
        2,
        "none.pem",
    );
    assert_refused(
        &migrate(&format!("{}?sslmode=prefer", cluster.url)),
        2,
        "sslmode=prefer",
    );
    let done = migrate(&address(&trusted));
    assert_eq!(
        done.status.code(),
        Some(0),
        "{}",
        String::from_utf8_lossy(&done.stderr)
    );
    let book = Book::open(
        &address(&trusted),
        Options {
            clock: Clock::system(),
            create: false,
        },
    )
    .unwrap();
    let shelf = || book.call(&Caller::owner("test"), &GetShelf::default());
    assert!(shelf().unwrap().answer.pieces.is_empty());
    // As with one in the clear: it is away, it is back, and nobody did anything.
    cluster.kill();
    cluster.start();
    assert!(shelf().is_ok());
}

//! `ellwand-server check`, `openapi` and `manual`.

use super::{assert_refused, run, url};
use tempfile::TempDir;

#[test]
fn the_document_is_printed() {
    let folder = TempDir::new().unwrap();
    let output = run(folder.path(), &["openapi"]);
    assert_eq!(output.status.code(), Some(0));
    let printed = String::from_utf8(output.stdout).unwrap();
    assert_eq!(printed, ellwand_server::openapi::pretty() + "\n");
}

/// A set-up with a book that strangers may read, a taken port, no book at all: each is one line with what to do.
#[cfg(unix)]
#[test]
fn a_set_up_is_looked_over() {
    use std::os::unix::fs::PermissionsExt;
    let folder = TempDir::new().unwrap();
    let database = url(folder.path());
    let check = |more: &[&str]| {
        // A free port, unless another address is asked for.
        let listen: &[&str] = if more.contains(&"--listen") {
            &[]
        } else {
            &["--listen", "127.0.0.1:0"]
        };
        let output = run(
            folder.path(),
            &[&["check", "--database", &database], listen, more].concat(),
        );
        (
            output.status.code().unwrap(),
            String::from_utf8(output.stdout).unwrap(),
        )
    };
    let (status, report) = check(&[]);
    assert!(
        status == 1
            && report.contains("wrong: the book at")
            && report.contains("ellwand-server migrate"),
        "{report}"
    );
    run(folder.path(), &["migrate", "--database", &database]);
    let (status, report) = check(&[]);
    assert!(
        status == 0 && report.contains("is closed to strangers"),
        "{report}"
    );
    let open_to = |mode: u32| {
        std::fs::set_permissions(
            folder.path().join("book.sqlite3"),
            std::fs::Permissions::from_mode(mode),
        )
        .unwrap();
    };
    open_to(0o644);
    let (status, report) = check(&[]);
    assert!(
        status == 1 && report.contains("open to everyone on the machine; chmod o= "),
        "{report}"
    );
    open_to(0o640);
    let (status, report) = check(&[]);
    assert!(
        status == 0 && !report.contains("wrong") && report.contains("no tokens yet"),
        "{report}"
    );
    let (status, report) = check(&["--open"]);
    assert!(status == 1 && report.contains("needs no token"), "{report}");
    let taken = std::net::TcpListener::bind("127.0.0.1:0").unwrap();
    let (status, report) = check(&["--listen", &taken.local_addr().unwrap().to_string()]);
    assert!(
        status == 1 && report.contains("cannot listen on 127.0.0.1:"),
        "{report}"
    );
    let made = crate::certificate::Certificate::of(&["127.0.0.1"]);
    let (chain, key) = (
        folder.path().join("chain.pem"),
        folder.path().join("key.pem"),
    );
    std::fs::write(&chain, made.own).unwrap();
    std::fs::write(&key, made.key).unwrap();
    let tls = [
        "--certificate",
        chain.to_str().unwrap(),
        "--key",
        key.to_str().unwrap(),
    ];
    std::fs::set_permissions(&key, std::fs::Permissions::from_mode(0o644)).unwrap();
    let (status, report) = check(&tls);
    assert!(
        status == 1 && report.contains("everyone on this machine can read the key"),
        "{report}"
    );
    let serve = [
        &["serve", "--database", &database, "--listen", "127.0.0.1:0"],
        &tls[..],
    ]
    .concat();
    assert_refused(
        &run(folder.path(), &serve),
        2,
        "everyone on this machine can read the key",
    );
    std::fs::set_permissions(&key, std::fs::Permissions::from_mode(0o640)).unwrap();
    let (status, report) = check(&tls);
    assert!(
        status == 0 && report.contains("and its key belong together"),
        "{report}"
    );
    let none = folder.path().join("none.pem").display().to_string();
    let (status, report) = check(&["--certificate", &none, "--key", &none]);
    assert!(status == 1 && report.contains("none.pem"), "{report}");
    let token = |args: &[&str]| {
        run(
            folder.path(),
            &[&["token"], args, &["--database", &database]].concat(),
        )
    };
    token(&["create", "anna", "--role", "owner"]);
    token(&["revoke", "T1"]);
    let (status, report) = check(&[]);
    assert!(
        status == 1 && report.contains("no owner has a token"),
        "{report}"
    );
}

#[test]
fn manual_pages_are_written() {
    let folder = TempDir::new().unwrap();
    let output = run(folder.path(), &["manual", "pages"]);
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    let page = std::fs::read_to_string(folder.path().join("pages/ellwand-server.1")).unwrap();
    assert!(page.contains(".TH ellwand-server 1"), "{page}");
    assert!(folder.path().join("pages/ellwand-server-serve.1").exists());
}

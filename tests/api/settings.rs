//! Settings: which layer wins, and what is refused.

use clap::Parser;
use ellwand_server::config::{Arguments, Config, ConfigError, LogFormat};
use std::{fs, path::PathBuf};
use tempfile::TempDir;

fn settings(args: &[&str]) -> Result<Config, ConfigError> {
    Config::new(&Arguments::try_parse_from([&["ellwand-server"], args].concat()).unwrap())
}

fn file(text: &str) -> (TempDir, PathBuf) {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("server.toml");
    fs::write(&path, text).unwrap();
    (folder, path)
}

#[test]
fn the_defaults_listen_on_loopback_only() {
    let config = settings(&["serve"]).unwrap();
    assert_eq!(config.listen.to_string(), "127.0.0.1:8417");
    assert_eq!(config.body_limit, 262_144);
    assert_eq!(config.log_format, LogFormat::Text);
    assert!(matches!(config.database(), Err(ConfigError::NoDatabase)));
}

#[test]
fn a_flag_wins_over_the_file_and_the_file_over_the_default() {
    let (_folder, path) =
        file("database = \"sqlite:///srv/book.sqlite3\"\nlisten = \"127.0.0.1:1\"\nworkers = 3\n");
    let path = path.to_str().unwrap();
    let config = settings(&[
        "--config",
        path,
        "serve",
        "--listen",
        "[::1]:2",
        "--log-format",
        "json",
    ])
    .unwrap();
    assert_eq!(config.listen.to_string(), "[::1]:2");
    assert_eq!(config.workers, 3);
    assert_eq!(config.log_format, LogFormat::Json);
    assert_eq!(config.max_connections, 512);
    assert_eq!(
        config.database().unwrap().expose(),
        "sqlite:///srv/book.sqlite3"
    );
}

#[test]
fn a_fault_in_the_file_is_said_with_its_line() {
    for (text, words) in [
        (
            "workers = 3\nworker = 2\n",
            "line 2: unknown field `worker`",
        ),
        ("workers = 3\n\nlisten = 8417\n", "line 3: "),
        (
            "database = \"book.sqlite3\"\n",
            "line 1: \"book.sqlite3\" is not a database URL",
        ),
    ] {
        let (_folder, path) = file(text);
        let error = settings(&["--config", path.to_str().unwrap(), "serve"])
            .unwrap_err()
            .to_string();
        assert!(
            error.contains(words) && error.contains("server.toml"),
            "{error}"
        );
    }
}

#[test]
fn an_address_that_others_can_reach_needs_tokens_and_tls() {
    let tls = ["--certificate", "chain.pem", "--key", "key.pem"];
    for listen in [
        "0.0.0.0:8417",
        "192.168.0.2:8417",
        "[::]:8417",
        "[::ffff:127.0.0.1]:8417",
    ] {
        let serve = |more: &[&str]| settings(&[&["serve", "--listen", listen], more].concat());
        let error = serve(&[]).unwrap_err().to_string();
        assert!(
            error.contains("in the clear") && error.contains(listen),
            "{error}"
        );
        for more in [
            &["--open"][..],
            &[&["--open"], &tls[..]].concat(),
            &["--open", "--behind-proxy"],
        ] {
            let error = serve(more).unwrap_err().to_string();
            assert!(error.contains("lets everyone in"), "{error}");
        }
        assert!(
            settings(&["serve", "--open", "--behind-proxy"]).is_err(),
            "on loopback neither"
        );
        assert!(
            serve(&tls).is_ok() && serve(&["--behind-proxy"]).is_ok(),
            "{listen}"
        );
    }
    let (_folder, path) = file("listen = \"0.0.0.0:80\"\n");
    assert!(settings(&["--config", path.to_str().unwrap(), "serve"]).is_err());
    for listen in ["127.0.0.1:0", "127.8.8.8:8417", "[::1]:8417"] {
        assert!(
            settings(&["serve", "--listen", listen, "--open"]).is_ok(),
            "{listen}"
        );
        assert!(settings(&["serve", "--listen", listen]).is_ok(), "{listen}");
    }
}

#[test]
fn a_certificate_and_its_key_go_together() {
    for (flag, missing) in [
        ("--certificate", "key is not given"),
        ("--key", "certificate is not given"),
    ] {
        let error = settings(&["serve", flag, "file.pem"])
            .unwrap_err()
            .to_string();
        assert!(error.contains(missing), "{error}");
    }
}

#[test]
fn limits_have_bounds() {
    for (args, accepted) in [
        (["--workers", "0"], false),
        (["--workers", "1"], true),
        (["--workers", "64"], true),
        (["--workers", "65"], false),
        (["--body-limit", "1023"], false),
        (["--body-limit", "1024"], true),
        (["--max-connections", "0"], false),
        (["--max-connections", "1"], true),
        (["--requests-per-minute", "0"], false),
        (["--requests-per-minute", "1"], true),
    ] {
        assert_eq!(
            settings(&["serve", args[0], args[1]]).is_ok(),
            accepted,
            "{args:?}"
        );
    }
}

const UNIT: &str = include_str!("../../server/http/packaging/ellwand-server.service");

/// The unit's commands are ones that the program has, and the packaged settings ones that it takes.
#[test]
fn the_packaged_unit_and_settings_are_those_of_the_program() {
    let commands: Vec<&str> = UNIT
        .lines()
        .filter_map(|line| {
            line.strip_prefix("ExecStartPre=")
                .or_else(|| line.strip_prefix("ExecStart="))
        })
        .collect();
    assert_eq!(commands.len(), 2);
    let (_folder, path) = file(include_str!("../../server/http/packaging/server.toml"));
    for command in commands {
        let command = command.replace("/etc/ellwand/server.toml", path.to_str().unwrap());
        let arguments = Arguments::try_parse_from(command.split(' ')).unwrap();
        let config = Config::new(&arguments).unwrap();
        assert_eq!(
            config.database().unwrap().expose(),
            "sqlite:///var/lib/ellwand/book.sqlite3"
        );
        assert!(config.listen.ip().is_loopback() && !config.open);
    }
}

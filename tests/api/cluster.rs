//! A PostgreSQL of the test's own, that may be killed. `TEST_POSTGRESQL_PROGRAMS` names the folder of its programs, which a
//! distribution keeps outside the PATH; without it the tests that need them are ignored.

use std::{
    fs,
    net::TcpListener,
    os::unix::fs::PermissionsExt,
    path::{Path, PathBuf},
    process::Command,
    thread,
    time::{Duration, Instant},
};
use tempfile::TempDir;

/// A cluster in a folder of its own; it goes when it is dropped.
pub struct Cluster {
    pub url: String,
    /// Where its programs are.
    pub bin: PathBuf,
    folder: TempDir,
    port: u16,
    /// PostgreSQL does not run as root.
    user: Option<&'static str>,
    encrypted: bool,
}

/// A port that was free a moment ago.
pub fn port() -> u16 {
    TcpListener::bind("127.0.0.1:0")
        .unwrap()
        .local_addr()
        .unwrap()
        .port()
}

/// Where its programs are.
#[expect(clippy::disallowed_methods, reason = "a setting of the tests")]
pub fn programs() -> Option<PathBuf> {
    std::env::var_os("TEST_POSTGRESQL_PROGRAMS").map(PathBuf::from)
}

fn is_root() -> bool {
    Command::new("id")
        .arg("-u")
        .output()
        .is_ok_and(|output| output.stdout.starts_with(b"0\n"))
}

impl Cluster {
    /// A running cluster with an empty database.
    pub fn new() -> Self {
        Self::make(None)
    }

    /// One that takes no connection in the clear, with a certificate for 127.0.0.1 and its key in PEM.
    pub fn encrypted(certificate: &str, key: &str) -> Self {
        Self::make(Some([("server.crt", certificate), ("server.key", key)]))
    }

    fn make(pem: Option<[(&str, &str); 2]>) -> Self {
        let bin = programs().expect("TEST_POSTGRESQL_PROGRAMS names no folder");
        let user = is_root().then_some("postgres");
        let folder = TempDir::new().unwrap();
        let port = port();
        let url = format!("postgres://ellwand@127.0.0.1:{port}/book");
        let cluster = Self {
            url,
            bin,
            folder,
            port,
            user,
            encrypted: pem.is_some(),
        };
        if let Some(user) = user {
            let owned = Command::new("chown")
                .arg(user)
                .arg(cluster.folder.path())
                .status();
            assert!(
                owned.is_ok_and(|status| status.success()),
                "root runs PostgreSQL as {user}, whom there is not"
            );
        }
        let data = cluster.data();
        let made = cluster.run(
            "initdb",
            &[
                "-D",
                &data,
                "-U",
                "ellwand",
                "--auth=trust",
                "--encoding=UTF8",
                "--locale=C",
            ],
        );
        assert!(made, "initdb");
        for (name, text) in pem.into_iter().flatten() {
            let path = cluster.folder.path().join("data").join(name);
            fs::write(&path, text).unwrap();
            fs::set_permissions(&path, fs::Permissions::from_mode(0o600)).unwrap();
            if let Some(user) = user {
                assert!(
                    Command::new("chown")
                        .arg(user)
                        .arg(&path)
                        .status()
                        .unwrap()
                        .success(),
                    "chown"
                );
            }
        }
        if pem.is_some() {
            let rules = "hostssl all all 127.0.0.1/32 trust\n";
            fs::write(cluster.folder.path().join("data/pg_hba.conf"), rules).unwrap();
        }
        cluster.start();
        let port = port.to_string();
        assert!(
            cluster.run(
                "createdb",
                &["-h", "127.0.0.1", "-p", &port, "-U", "ellwand", "book"]
            ),
            "createdb"
        );
        cluster
    }

    fn data(&self) -> String {
        self.folder.path().join("data").display().to_string()
    }

    fn run(&self, program: &str, args: &[&str]) -> bool {
        let program = self.bin.join(program);
        let mut command = match self.user {
            Some(user) => {
                let mut command = Command::new("runuser");
                command.args(["-u", user, "--"]).arg(program);
                command
            }
            None => Command::new(program),
        };
        command.args(args).current_dir(self.folder.path());
        // A server that is started keeps its output open: it must not be waited for.
        command
            .stdout(std::process::Stdio::null())
            .stderr(std::process::Stdio::null());
        command.status().unwrap().success()
    }

    /// Starts it and waits until it takes connections.
    pub fn start(&self) {
        let (data, log) = (
            self.data(),
            self.folder.path().join("log").display().to_string(),
        );
        let sockets = self.folder.path().display();
        let options = format!(
            "-c listen_addresses=127.0.0.1 -c port={} -c unix_socket_directories={sockets} -c fsync=on -c ssl={}",
            self.port,
            if self.encrypted { "on" } else { "off" }
        );
        let begun = Instant::now();
        // What is left of a killed one may hold its shared memory for a moment.
        while !self.run(
            "pg_ctl",
            &[
                "-D", &data, "-l", &log, "-w", "-t", "30", "-o", &options, "start",
            ],
        ) {
            let log = fs::read_to_string(Path::new(&log)).unwrap_or_default();
            assert!(
                begun.elapsed() < Duration::from_secs(60),
                "PostgreSQL does not start: {log}"
            );
            thread::sleep(Duration::from_millis(50));
        }
    }

    /// As the power goes: the first process of all is killed, and the others go with it.
    pub fn kill(&self) {
        let file =
            fs::read_to_string(self.folder.path().join("data/postmaster.pid")).unwrap_or_default();
        if let Some(process) = file.lines().next() {
            let _ = Command::new("kill").args(["-9", process.trim()]).status();
        }
    }
}

impl Drop for Cluster {
    fn drop(&mut self) {
        let data = self.data();
        self.run("pg_ctl", &["-D", &data, "-m", "immediate", "stop"]);
    }
}

//! The way to a PostgreSQL server: in the clear, or by TLS with a certificate that is verified.
//!
//! Of the address (libpq's form, PostgreSQL documentation, 34.1.1.2 "Connection URIs") two parameters are read here:
//! `sslmode` and `sslrootcert`; the driver reads the others.

use super::Conn;
use crate::error::StorageError;
use diesel::{Connection, ConnectionError, ConnectionResult};
use diesel_async::AsyncPgConnection;
use percent_encoding::percent_decode_str;
use rustls::{
    ClientConfig, RootCertStore,
    crypto::ring,
    pki_types::{CertificateDer, pem::PemObject},
};
use std::{
    error::Error,
    io,
    net::IpAddr,
    path::Path,
    sync::{Arc, LazyLock},
};
use tokio::runtime::{Builder, Runtime};
use tokio_postgres::{
    Config,
    config::{Host, SslMode},
};
use tokio_postgres_rustls::MakeRustlsConnect;

/// How a server is reached.
#[derive(Clone)]
pub(super) enum Way {
    /// In the clear, as in the address.
    Plain(String),
    /// By TLS.
    Encrypted(Box<(Config, MakeRustlsConnect)>),
}

/// Drives the connections by TLS; those in the clear are driven by their own runtimes.
static DRIVER: LazyLock<io::Result<Runtime>> = LazyLock::new(|| {
    Builder::new_multi_thread()
        .worker_threads(1)
        .enable_all()
        .build()
});

/// The encryption that an address requests, and the rest of it.
struct Address {
    plain: String,
    encrypted: bool,
    authority: Option<String>,
}

impl Address {
    fn parse(url: &str) -> Result<Self, StorageError> {
        let (base, query) = url.split_once('?').unwrap_or((url, ""));
        let (mut mode, mut authority, mut rest) = (None, None, Vec::new());
        for pair in query.split('&').filter(|pair| !pair.is_empty()) {
            match pair.split_once('=') {
                Some(("sslmode", value)) => mode = Some(decoded(value)),
                Some(("sslrootcert", value)) => authority = Some(decoded(value)),
                _ => rest.push(pair),
            }
        }
        let encrypted = match mode.as_deref() {
            None | Some("disable") => false,
            Some("require" | "verify-ca" | "verify-full") => true,
            Some(other) => return Err(StorageError::Encryption(format!("sslmode={other}"))),
        };
        if authority.is_some() && !encrypted {
            return Err(StorageError::Encryption(
                "sslrootcert without sslmode=verify-full".to_owned(),
            ));
        }
        let plain = if rest.is_empty() {
            base.to_owned()
        } else {
            format!("{base}?{}", rest.join("&"))
        };
        Ok(Self {
            plain,
            encrypted,
            authority,
        })
    }
}

fn decoded(value: &str) -> String {
    percent_decode_str(value).decode_utf8_lossy().into_owned()
}

/// True when requests and answers travel to another machine unencrypted.
#[must_use]
pub fn is_in_the_clear(url: &str) -> bool {
    let Ok(address) = Address::parse(url) else {
        return false;
    };
    let Ok(config) = address.plain.parse::<Config>() else {
        return false;
    };
    let here = |host: &Host| match host {
        Host::Tcp(name) => {
            let address = name.trim_matches(['[', ']']).parse::<IpAddr>();
            name == "localhost" || address.is_ok_and(|address| address.is_loopback())
        }
        #[cfg(unix)]
        Host::Unix(_) => true,
    };
    !address.encrypted && !config.get_hosts().iter().all(here)
}

impl Way {
    pub(super) fn parse(url: &str) -> Result<Self, StorageError> {
        let address = Address::parse(url)?;
        if !address.encrypted {
            return Ok(Self::Plain(address.plain));
        }
        let mut config: Config = address
            .plain
            .parse()
            .map_err(|error| StorageError::Unreachable(chain(&error as &dyn Error)))?;
        config.ssl_mode(SslMode::Require);
        let roots = match &address.authority {
            Some(file) => of_file(Path::new(file)),
            None => of_system(),
        }
        .map_err(StorageError::Encryption)?;
        let client = ClientConfig::builder_with_provider(Arc::new(ring::default_provider()))
            .with_safe_default_protocol_versions()
            .map_err(|error| StorageError::Encryption(error.to_string()))?
            .with_root_certificates(roots)
            .with_no_client_auth();
        Ok(Self::Encrypted(Box::new((
            config,
            MakeRustlsConnect::new(client),
        ))))
    }

    pub(super) fn connect(&self) -> ConnectionResult<Conn> {
        let (config, connector) = match self {
            Self::Plain(url) => return Conn::establish(url),
            Self::Encrypted(way) => &**way,
        };
        let driver = DRIVER
            .as_ref()
            .map_err(|error| ConnectionError::BadConnection(format!("no thread: {error}")))?;
        let connection = driver.block_on(async {
            let (client, connection) = config
                .connect(connector.clone())
                .await
                .map_err(|error| ConnectionError::BadConnection(chain(&error as &dyn Error)))?;
            AsyncPgConnection::try_from_client_and_connection(client, connection).await
        })?;
        Ok(connection.into())
    }
}

/// The certificates that a server's own may come from, of a PEM file.
fn of_file(path: &Path) -> Result<RootCertStore, String> {
    let refused = |cause: &dyn std::fmt::Display| {
        format!("the authority {} cannot be used: {cause}", path.display())
    };
    let mut roots = RootCertStore::empty();
    for certificate in CertificateDer::pem_file_iter(path).map_err(|error| refused(&error))? {
        let certificate = certificate.map_err(|error| refused(&error))?;
        roots.add(certificate).map_err(|error| refused(&error))?;
    }
    if roots.is_empty() {
        Err(refused(&"there is no certificate in it"))
    } else {
        Ok(roots)
    }
}

fn of_system() -> Result<RootCertStore, String> {
    let mut roots = RootCertStore::empty();
    let _ = roots.add_parsable_certificates(rustls_native_certs::load_native_certs().certs);
    if roots.is_empty() {
        return Err("this machine trusts no authority; name one with sslrootcert=FILE".to_owned());
    }
    Ok(roots)
}

/// A failure with its causes: the first alone says no more than that there was one.
fn chain(error: &dyn Error) -> String {
    let mut text = error.to_string();
    let mut cause = error.source();
    while let Some(next) = cause {
        text = format!("{text}: {next}");
        cause = next.source();
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_address_says_whether_it_is_encrypted() {
        for (url, plain, encrypted) in [
            ("postgres://a@db/book", "postgres://a@db/book", false),
            (
                "postgres://a@db/book?sslmode=disable",
                "postgres://a@db/book",
                false,
            ),
            (
                "postgres://a@db/book?sslmode=verify-full&connect_timeout=2",
                "postgres://a@db/book?connect_timeout=2",
                true,
            ),
        ] {
            let address = Address::parse(url).expect("an address");
            assert_eq!(
                (address.plain.as_str(), address.encrypted),
                (plain, encrypted),
                "{url}"
            );
        }
        let kept = Address::parse("postgres://db/b?sslmode=require&sslrootcert=/a%20b.pem")
            .expect("an address");
        assert_eq!(kept.authority.as_deref(), Some("/a b.pem"));
    }

    #[test]
    fn what_would_fall_back_to_the_clear_or_does_nothing_is_refused() {
        for url in [
            "postgres://db/b?sslmode=prefer",
            "postgres://db/b?sslrootcert=/a.pem",
        ] {
            assert!(
                matches!(Address::parse(url), Err(StorageError::Encryption(_))),
                "{url}"
            );
        }
    }

    #[test]
    fn another_machine_is_reached_in_the_clear_unless_it_says_otherwise() {
        for (url, clear) in [
            ("postgres://a@127.0.0.1/book", false),
            ("postgres://a@localhost:5433/book", false),
            ("postgres://a@[::1]/book", false),
            ("postgres:///book?host=/run/postgresql", false),
            ("postgres://a@db.example/book", true),
            ("postgres://a@192.0.2.7/book", true),
            ("postgres://a@db.example/book?sslmode=verify-full", false),
        ] {
            assert_eq!(is_in_the_clear(url), clear, "{url}");
        }
    }
}

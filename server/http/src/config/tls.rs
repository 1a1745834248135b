//! The server's certificate and key.

use super::ConfigError;
use rustls::{
    ServerConfig,
    crypto::ring,
    pki_types::{CertificateDer, PrivateKeyDer, pem::PemObject},
};
use std::{
    path::{Path, PathBuf},
    sync::Arc,
};

/// Where the certificate chain and its private key lie, both in PEM.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tls {
    /// The chain, the server's own certificate first.
    pub certificate: PathBuf,
    /// Its private key.
    pub key: PathBuf,
}

impl Tls {
    /// Both or neither.
    pub(super) fn of(
        certificate: Option<PathBuf>,
        key: Option<PathBuf>,
    ) -> Result<Option<Self>, ConfigError> {
        match (certificate, key) {
            (None, None) => Ok(None),
            (Some(certificate), Some(key)) => Ok(Some(Self { certificate, key })),
            (Some(_), None) => Err(ConfigError::HalfTls { missing: "key" }),
            (None, Some(_)) => Err(ConfigError::HalfTls {
                missing: "certificate",
            }),
        }
    }

    /// Reads both files; they are read once, so a renewed certificate needs a restart.
    ///
    /// # Errors
    /// [`ConfigError::Tls`] for a file that cannot be read, a key that strangers can read, or one that does not belong to
    /// the certificate.
    pub fn load(&self) -> Result<ServerConfig, ConfigError> {
        let wrong = |path: &Path, cause: String| ConfigError::Tls {
            path: path.to_owned(),
            cause,
        };
        let chain = CertificateDer::pem_file_iter(&self.certificate)
            .and_then(Iterator::collect::<Result<Vec<_>, _>>)
            .map_err(|error| wrong(&self.certificate, error.to_string()))?;
        if chain.is_empty() {
            return Err(wrong(
                &self.certificate,
                "there is no certificate in it".to_owned(),
            ));
        }
        private(&self.key)?;
        let key = PrivateKeyDer::from_pem_file(&self.key)
            .map_err(|error| wrong(&self.key, error.to_string()))?;
        ServerConfig::builder_with_provider(Arc::new(ring::default_provider()))
            .with_safe_default_protocol_versions()
            .and_then(|builder| builder.with_no_client_auth().with_single_cert(chain, key))
            .map_err(|error| wrong(&self.certificate, error.to_string()))
    }
}

/// Refuses a key that everyone on the machine can read: whoever has it can pose as the server.
#[cfg(unix)]
fn private(key: &Path) -> Result<(), ConfigError> {
    use std::os::unix::fs::PermissionsExt;
    match std::fs::metadata(key) {
        Ok(metadata) if metadata.permissions().mode() & 0o007 != 0 => Err(ConfigError::Tls {
            path: key.to_owned(),
            cause: format!(
                "everyone on this machine can read the key; chmod o= {}, and have it renewed if someone may have read it",
                key.display()
            ),
        }),
        _ => Ok(()),
    }
}

#[cfg(not(unix))]
fn private(_: &Path) -> Result<(), ConfigError> {
    Ok(())
}

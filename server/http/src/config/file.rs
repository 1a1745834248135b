//! The settings file.

use super::{ConfigError, DatabaseUrl, LogFormat};
use serde::Deserialize;
use std::{
    net::SocketAddr,
    path::{Path, PathBuf},
};

/// The keys of the file; what is absent is left to the defaults.
#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct File {
    pub(super) database: Option<DatabaseUrl>,
    pub(super) database_password_file: Option<PathBuf>,
    pub(super) listen: Option<SocketAddr>,
    pub(super) log_format: Option<LogFormat>,
    pub(super) log: Option<String>,
    pub(super) body_limit: Option<usize>,
    pub(super) workers: Option<usize>,
    pub(super) max_connections: Option<usize>,
    pub(super) connections: Option<usize>,
    pub(super) requests_per_minute: Option<usize>,
    pub(super) failures_per_minute: Option<usize>,
    pub(super) open: Option<bool>,
    pub(super) certificate: Option<PathBuf>,
    pub(super) key: Option<PathBuf>,
    pub(super) behind_proxy: Option<bool>,
    pub(super) token_file: Option<PathBuf>,
}

impl File {
    pub(super) fn read(path: &Path) -> Result<Self, ConfigError> {
        let wrong = |cause: String| ConfigError::File {
            path: path.to_owned(),
            cause,
        };
        let text = std::fs::read_to_string(path).map_err(|error| wrong(error.to_string()))?;
        let file: Self = toml::from_str(&text).map_err(|error| {
            let before = error.span().and_then(|span| text.get(..span.start));
            let line = before.map_or(1, |before| before.matches('\n').count().saturating_add(1));
            wrong(format!("line {line}: {}", error.message()))
        })?;
        if let Some(Err(error)) = file.database.as_ref().map(DatabaseUrl::check) {
            let line = text
                .lines()
                .position(|line| line.trim_start().starts_with("database"));
            let line = line.unwrap_or_default().saturating_add(1);
            return Err(wrong(format!("line {line}: {error}")));
        }
        Ok(file)
    }
}

//! Servers that the user signed in at: `servers.toml` in the configuration folder, readable by its owner alone.

use crate::{command_error::CommandError, environment::Environment, file};
use serde::{Deserialize, Serialize};
use std::{
    collections::BTreeMap,
    io::Write,
    path::{Path, PathBuf},
};

/// What is kept of sign-ins.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SignedIn {
    /// The server to use when nothing else is named.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub current: Option<String>,
    /// The server used last, however it was found: from then on no book is created or opened on this machine unless the
    /// user names it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last: Option<String>,
    /// Tokens by the server's URL.
    #[serde(default)]
    pub tokens: BTreeMap<String, String>,
}

fn path(environment: &Environment) -> Option<PathBuf> {
    Some(environment.config_dir.as_ref()?.join("servers.toml"))
}

impl SignedIn {
    /// Reads the file; none is nothing.
    ///
    /// # Errors
    /// Exit 2: it cannot be read, or others can read it too.
    pub fn read(environment: &Environment) -> Result<Self, CommandError> {
        match path(environment).filter(|path| path.exists()) {
            Some(path) => {
                check_private(&path)?;
                file::read_toml(&path)
            }
            None => Ok(Self::default()),
        }
    }

    /// Writes the file, for its owner alone; the former one is replaced whole or not at all.
    ///
    /// # Errors
    /// Exit 2 when it cannot be written.
    pub fn write(&self, environment: &Environment) -> Result<PathBuf, CommandError> {
        let path = path(environment).ok_or_else(|| {
            CommandError::usage_hint(
                "there is no home folder to keep the token in",
                "set ELLWAND_TOKEN to the token and ELLWAND_SERVER to the URL",
            )
        })?;
        let failed = |what: &dyn std::fmt::Display| {
            CommandError::usage(format!("{} cannot be written: {what}", path.display()))
        };
        let text = toml::to_string(self).map_err(|error| failed(&error))?;
        let folder = path.parent().unwrap_or(Path::new("."));
        std::fs::create_dir_all(folder).map_err(|error| failed(&error))?;
        // A temporary file is made for its owner alone, and moving it keeps that.
        let mut new = tempfile::NamedTempFile::new_in(folder).map_err(|error| failed(&error))?;
        new.write_all(text.as_bytes())
            .map_err(|error| failed(&error))?;
        new.as_file().sync_all().map_err(|error| failed(&error))?;
        new.persist(&path).map_err(|error| failed(&error.error))?;
        Ok(path)
    }
}

#[cfg(unix)]
fn check_private(path: &Path) -> Result<(), CommandError> {
    use std::os::unix::fs::PermissionsExt;
    let open =
        std::fs::metadata(path).is_ok_and(|metadata| metadata.permissions().mode() & 0o077 != 0);
    if open {
        return Err(CommandError::usage_hint(
            format!(
                "{} holds tokens, and others on this machine can read it",
                path.display()
            ),
            format!(
                "chmod 600 {}; if someone may have read it, have the tokens revoked",
                path.display()
            ),
        ));
    }
    Ok(())
}

#[cfg(not(unix))]
fn check_private(_: &Path) -> Result<(), CommandError> {
    Ok(())
}

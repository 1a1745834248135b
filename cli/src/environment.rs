//! What the program reads of its environment, once, in `main`.

use chrono::{DateTime, Utc};
use directories::ProjectDirs;
use std::{
    env,
    io::{self, IsTerminal},
    path::PathBuf,
};

/// The environment of a run. Nothing else reads variables, folders or the terminal's size.
#[derive(Debug, Clone, Default)]
pub struct Environment {
    /// Folder of the default book.
    pub data_dir: Option<PathBuf>,
    /// Folder of `config.toml`.
    pub config_dir: Option<PathBuf>,
    /// Where requests to a server wait for their answer.
    pub state_dir: Option<PathBuf>,
    /// `ELLWAND_CONFIG`: another file than `config.toml` in the configuration folder.
    pub config: Option<PathBuf>,
    /// `ELLWAND_SERVER`: URL of a server.
    pub server: Option<String>,
    /// `ELLWAND_DATABASE`: file or URL of a book.
    pub database: Option<String>,
    /// `ELLWAND_DATABASE_PASSWORD`: of a database whose URL has none.
    pub database_password: Option<String>,
    /// `ELLWAND_DATABASE_PASSWORD_FILE`: a file that holds it, before the variable.
    pub database_password_file: Option<PathBuf>,
    /// `ELLWAND_TOKEN`: the token to sign in with, before the stored one.
    pub token: Option<String>,
    /// `ELLWAND_COMPLETE`: the shell that asks what may be typed next.
    pub complete: Option<String>,
    /// `ELLWAND_NOW`: a fixed clock as RFC 3339, or the text that is none.
    pub now: Option<Result<DateTime<Utc>, String>>,
    /// `USER`, or `USERNAME`.
    pub user: Option<String>,
    /// `NO_COLOR` is set and not empty.
    pub no_color: bool,
    /// `COLUMNS`, or the terminal's width.
    pub width: Option<u16>,
    /// Questions can be answered.
    pub input_is_terminal: bool,
    /// Results are read by a person.
    pub output_is_terminal: bool,
    /// Messages are read by a person.
    pub messages_are_terminal: bool,
}

impl Environment {
    /// Reads it.
    #[must_use]
    #[expect(
        clippy::disallowed_methods,
        reason = "this is the one place that reads the environment"
    )]
    pub fn read() -> Self {
        let text = |name: &str| env::var(name).ok().filter(|text| !text.is_empty());
        let path = |name: &str| {
            env::var_os(name)
                .filter(|path| !path.is_empty())
                .map(PathBuf::from)
        };
        let folders = ProjectDirs::from("", "", "ellwand");
        let state = |folders: &ProjectDirs| {
            folders
                .state_dir()
                .unwrap_or(folders.data_local_dir())
                .to_owned()
        };
        Self {
            data_dir: folders
                .as_ref()
                .map(|folders| folders.data_dir().to_owned()),
            config_dir: folders
                .as_ref()
                .map(|folders| folders.config_dir().to_owned()),
            state_dir: folders.as_ref().map(state),
            config: path("ELLWAND_CONFIG"),
            server: text("ELLWAND_SERVER"),
            database: text("ELLWAND_DATABASE"),
            database_password: text("ELLWAND_DATABASE_PASSWORD"),
            database_password_file: path("ELLWAND_DATABASE_PASSWORD_FILE"),
            token: text("ELLWAND_TOKEN"),
            complete: text(crate::completion::VARIABLE),
            now: text("ELLWAND_NOW").map(|text| text.parse::<DateTime<Utc>>().map_err(|_| text)),
            user: text("USER").or_else(|| text("USERNAME")),
            no_color: text("NO_COLOR").is_some(),
            width: text("COLUMNS")
                .and_then(|text| text.parse().ok())
                .or_else(terminal_width),
            input_is_terminal: io::stdin().is_terminal(),
            output_is_terminal: io::stdout().is_terminal(),
            messages_are_terminal: io::stderr().is_terminal(),
        }
    }

    /// The time by this machine's clock, or by the fixed one.
    #[must_use]
    #[expect(
        clippy::disallowed_methods,
        reason = "the client says what its own clock says"
    )]
    pub fn time(&self) -> Option<DateTime<Utc>> {
        match &self.now {
            None => Some(Utc::now()),
            Some(now) => now.as_ref().ok().copied(),
        }
    }
}

fn terminal_width() -> Option<u16> {
    terminal_size::terminal_size().map(|(width, _)| width.0)
}

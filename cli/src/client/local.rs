//! A book on this machine, opened in process.

use super::{Askable, Fault};
use crate::{config::Target, environment::Environment};
use ellwand_contract::{Outcome, Sending};
use ellwand_service::{Book, Caller, Clock, Options, Password};
use std::{fs, path::Path};

/// Acts that make sense on an empty book, so that they may begin one at a path the user named.
const BEGINNERS: &[&str] = &[
    "buy",
    "plan_garment",
    "set_overhead_rate",
    "set_pay_rate",
    "set_workshop",
];

/// A book on this machine.
pub struct Local {
    target: Target,
    clock: Clock,
    caller: Caller,
    book: Option<Book>,
}

impl std::fmt::Debug for Local {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Local").finish_non_exhaustive()
    }
}

impl Local {
    pub(super) fn new(
        target: &Target,
        name: &str,
        environment: &Environment,
    ) -> Result<Self, Fault> {
        let clock = match &environment.now {
            None => Clock::system(),
            Some(Ok(now)) => Clock::fixed(*now),
            Some(Err(text)) => {
                return Err(Fault::Usage {
                    message: format!("ELLWAND_NOW is \"{text}\", which is not a time"),
                    hint: "write it as 2026-10-05T09:00:00Z, or leave it out".to_owned(),
                });
            }
        };
        let mut target = target.clone();
        if let Target::Database(url) = &mut target {
            *url = with_password(url, environment)?;
        }
        Ok(Self {
            target,
            clock,
            caller: Caller::owner(name),
            book: None,
        })
    }

    pub(super) fn open(&mut self, act: &str) -> Result<(), Fault> {
        if self.book.is_some() {
            return Ok(());
        }
        let (url, create) = match &self.target {
            Target::Server(url) | Target::Unsaid(url) | Target::Database(url) => {
                (url.clone(), false)
            }
            Target::File { path, named } => {
                let create = !named || BEGINNERS.contains(&act);
                if !create && !path.exists() {
                    return Err(absent(path));
                }
                if create {
                    make_folder(path)?;
                }
                (format!("sqlite://{}", path.display()), create)
            }
        };
        self.book = Some(Book::open(
            &url,
            Options {
                clock: self.clock,
                create,
            },
        )?);
        Ok(())
    }

    pub(super) fn send<A: Askable>(
        &mut self,
        act: &A,
        sending: Sending,
    ) -> Result<Outcome<A::Answer>, Fault> {
        self.open(A::NAME)?;
        let book = self
            .book
            .as_ref()
            .expect("`open` has just put the book in place");
        Ok(book.send(&self.caller, act, sending)?)
    }
}

fn with_password(url: &str, environment: &Environment) -> Result<String, Fault> {
    let given = Password {
        text: environment.database_password.as_deref(),
        file: environment.database_password_file.as_deref(),
    };
    given.put_into(url).map_err(|message| Fault::Usage {
        message,
        hint: "name it in ELLWAND_DATABASE_PASSWORD_FILE, readable by you alone".to_owned(),
    })
}

fn absent(path: &Path) -> Fault {
    Fault::Usage {
        message: format!("there is no book at {}", path.display()),
        hint: "check the path; `ellwand workshop set` or `ellwand buy` with this path starts a new one"
            .to_owned(),
    }
}

fn make_folder(path: &Path) -> Result<(), Fault> {
    let Some(folder) = path.parent() else {
        return Ok(());
    };
    fs::create_dir_all(folder).map_err(|error| Fault::Usage {
        message: format!("the folder {} cannot be created: {error}", folder.display()),
        hint: "name another file with --database FILE".to_owned(),
    })
}

//! Requests that were sent and not yet answered: each is kept in a file until its answer came.
//!
//! The file of a request in flight is locked, so that another run does not take it for a lost one.

mod resend;

use crate::{
    client::Client,
    command_error::CommandError,
    config::Target,
    environment::Environment,
    fault::Ended,
    ui::{Ui, prompt},
};
use ellwand_contract::{json, text::redacted};
use serde::{Deserialize, Serialize};
use serde_json::Value;
use std::{
    borrow::Cow,
    fs::{self, File, OpenOptions},
    io::{self, Read, Write},
    path::{Path, PathBuf},
};
use uuid::Uuid;

/// A request as it is kept.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Request {
    /// Its id.
    pub id: Uuid,
    /// Name of the act.
    pub act: String,
    /// Server or file that it was sent to.
    pub target: String,
    /// The command that made it.
    pub command: String,
    /// All of it.
    pub body: Value,
}

/// Where the requests of one book are kept.
#[derive(Debug)]
pub struct Pending {
    folder: Option<PathBuf>,
    target: String,
    /// Words that name the book on a command line that does not.
    place: Option<String>,
    offered: bool,
}

/// A request in flight.
#[derive(Debug)]
pub struct Kept {
    path: PathBuf,
    file: File,
    /// It had been kept before: an earlier sending got no answer.
    again: bool,
}

impl Kept {
    /// True when an earlier sending of the request got no answer.
    #[must_use]
    pub fn is_again(&self) -> bool {
        self.again
    }

    /// Ends the keeping: an answered request is forgotten, an unanswered one stays for the next run. One that was turned
    /// away at the door was not booked now, but may have been when it was sent first.
    pub fn end(self, ended: Ended) {
        drop(self.file);
        if ended == Ended::Answered || (ended == Ended::TurnedAway && !self.again) {
            // A file that stays behind is offered once more and answered as repeated: no harm.
            let _ = fs::remove_file(&self.path);
        }
    }
}

impl Pending {
    /// The folder of a target: beside a file, else in the user's state folder.
    #[must_use]
    pub fn new(target: &Target, environment: &Environment) -> Self {
        let state = || {
            environment
                .state_dir
                .as_ref()
                .map(|folder| folder.join("pending"))
        };
        let (folder, target, place) = match target {
            Target::File { path, .. } => {
                let mut folder = path.clone().into_os_string();
                folder.push("-pending");
                let file = path.display().to_string();
                let place = format!("--database {}", quoted(&file));
                (Some(PathBuf::from(folder)), file, Some(place))
            }
            Target::Server(url) => (
                state(),
                url.clone(),
                Some(format!("--server {}", quoted(url))),
            ),
            // Its address may hold a password, which stands where it was given.
            Target::Database(url) => (state(), redacted(url), None),
            Target::Unsaid(url) => (None, url.clone(), None),
        };
        Self {
            folder,
            target,
            place,
            offered: false,
        }
    }

    /// Keeps a request until its answer came.
    ///
    /// # Errors
    /// A sentence on why it cannot be saved; the request can be sent all the same.
    pub fn keep(
        &self,
        id: Uuid,
        (act, fields): (&str, &Result<Value, String>),
        command_line: &[String],
    ) -> Result<Kept, String> {
        let request = Request {
            id,
            act: act.to_owned(),
            target: self.target.clone(),
            command: self.command(command_line, Some(id)),
            body: fields
                .clone()
                .map_err(|error| format!("the request cannot be saved: {error}"))?,
        };
        let folder = self
            .folder
            .as_ref()
            .ok_or("the request cannot be saved: there is no home folder")?;
        write(folder, &request).map_err(|error| {
            format!(
                "the request cannot be saved in {}: {error}",
                folder.display()
            )
        })
    }

    /// The command line again, fit for a shell; with the id of its request, and then the book that it was meant for, for
    /// another may be the usual one by the time it is repeated.
    #[must_use]
    pub fn command(&self, command_line: &[String], id: Option<Uuid>) -> String {
        let given = |name: &str| {
            command_line.iter().any(|arg| {
                arg.strip_prefix(name)
                    .is_some_and(|rest| rest.is_empty() || rest.starts_with('='))
            })
        };
        let words = command_line
            .iter()
            .skip(1)
            .map(|arg| quoted(&without_password(arg)));
        let place = self
            .place
            .clone()
            .filter(|_| id.is_some() && !given("--server") && !given("--database"));
        let id = id.filter(|_| !given("--id")).map(|id| format!("--id {id}"));
        std::iter::once("ellwand".to_owned())
            .chain(words)
            .chain(id)
            .chain(place)
            .collect::<Vec<_>>()
            .join(" ")
    }

    /// Once per run: offers unanswered requests; without a terminal it only reports them.
    ///
    /// # Errors
    /// No answer again, or interrupted.
    pub fn offer(
        &mut self,
        client: &mut Client,
        ui: &mut Ui<'_>,
        own: Option<Uuid>,
        may_ask: bool,
    ) -> Result<(), CommandError> {
        if std::mem::replace(&mut self.offered, true) {
            return Ok(());
        }
        for (path, request) in self.unanswered() {
            if Some(request.id) == own {
                continue;
            }
            ui.warning(format!(
                "this request was not answered: {}",
                request.command
            ));
            if !may_ask {
                ui.hint(format!(
                    "run it as it is, it is booked only once; or discard it: rm {}",
                    quoted(&path.display().to_string())
                ));
                continue;
            }
            match prompt::unanswered()? {
                prompt::Unanswered::Later => {}
                prompt::Unanswered::Forget => {
                    let _ = fs::remove_file(&path);
                }
                prompt::Unanswered::Send => match resend::resend(client, &request) {
                    Ok(repeated) => {
                        let _ = fs::remove_file(&path);
                        ui.status(if repeated {
                            "It was already booked."
                        } else {
                            "It is booked now."
                        });
                    }
                    Err(fault) => {
                        let error = CommandError::from(fault);
                        if !error.is_answer() {
                            return Err(error.repeat_with(request.command));
                        }
                        let _ = fs::remove_file(&path);
                        ui.warning(format!("it was refused: {}", error.message()));
                    }
                },
            }
        }
        Ok(())
    }

    /// Requests without an answer, oldest first; ids of version 7 sort by time.
    fn unanswered(&self) -> Vec<(PathBuf, Request)> {
        let Some(entries) = self
            .folder
            .as_ref()
            .and_then(|folder| fs::read_dir(folder).ok())
        else {
            return Vec::new();
        };
        let mut paths: Vec<PathBuf> = entries
            .filter_map(|entry| Some(entry.ok()?.path()))
            .collect();
        paths.sort();
        let requests = paths
            .into_iter()
            .filter_map(|path| read_request(&path).map(|request| (path, request)));
        requests
            .filter(|(_, request)| request.target == self.target)
            .collect()
    }
}

fn read_request(path: &Path) -> Option<Request> {
    if path.extension().is_none_or(|extension| extension != "json") {
        return None;
    }
    let mut file = File::open(path).ok()?;
    file.try_lock_shared().ok()?;
    let mut text = String::new();
    file.read_to_string(&mut text).ok()?;
    json::read(&text).ok()
}

fn write(folder: &Path, request: &Request) -> io::Result<Kept> {
    fs::create_dir_all(folder)?;
    let path = folder.join(format!("{}.json", request.id));
    let again = path.exists();
    let mut options = OpenOptions::new();
    options.write(true).create(true).truncate(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    let mut file = options.open(&path)?;
    // Another run may be repeating the same request; both are answered alike.
    let _ = file.try_lock();
    file.write_all(json::write_lines(request)?.as_bytes())?;
    Ok(Kept { path, file, again })
}

/// A word of a command line, where it names a database without its password, which is typed or set again.
fn without_password(word: &str) -> Cow<'_, str> {
    let at = ["postgres://", "postgresql://"]
        .iter()
        .find_map(|scheme| word.find(scheme));
    match at.map(|at| word.split_at(at)) {
        Some((flag, url)) if flag.is_empty() || flag == "--database=" => {
            Cow::Owned(format!("{flag}{}", redacted(url)))
        }
        _ => Cow::Borrowed(word),
    }
}

/// A word as a shell takes it.
pub(crate) fn quoted(word: &str) -> String {
    let plain = |c: char| c.is_ascii_alphanumeric() || "-_./:=,@%+".contains(c);
    if !word.is_empty() && word.chars().all(plain) {
        word.to_owned()
    } else {
        format!("'{}'", word.replace('\'', r"'\''"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_command_is_quoted_for_a_shell_and_gets_its_id_once() {
        let pending = Pending {
            folder: None,
            target: String::new(),
            place: None,
            offered: false,
        };
        let words = |list: &[&str]| {
            list.iter()
                .map(|word| (*word).to_owned())
                .collect::<Vec<_>>()
        };
        let id = Uuid::from_u128(7);
        let command = pending.command(
            &words(&["/usr/bin/ellwand", "cut", "G5", "2 3/4 yd", "it's"]),
            Some(id),
        );
        assert_eq!(
            command,
            format!(r"ellwand cut G5 '2 3/4 yd' 'it'\''s' --id {id}")
        );
        let again = words(&["ellwand", "undo", "--id", "x"]);
        assert_eq!(pending.command(&again, Some(id)), "ellwand undo --id x");
    }

    #[test]
    fn a_repeated_command_goes_to_the_book_that_it_was_meant_for() {
        let server = Target::Server("http://127.0.0.1:8417".to_owned());
        let pending = Pending::new(&server, &Environment::default());
        let words = |line: &str| line.split(' ').map(str::to_owned).collect::<Vec<_>>();
        let id = Uuid::from_u128(7);
        let command = pending.command(&words("ellwand undo"), Some(id));
        assert_eq!(
            command,
            format!("ellwand undo --id {id} --server http://127.0.0.1:8417")
        );
        let named = pending.command(&words("ellwand --database=b.sqlite3 undo"), Some(id));
        assert_eq!(
            named,
            format!("ellwand --database=b.sqlite3 undo --id {id}")
        );
        assert_eq!(
            pending.command(&words("ellwand shelf"), None),
            "ellwand shelf"
        );
    }

    #[test]
    fn a_password_is_not_kept() {
        let kept = Pending::new(
            &Target::Database("postgres://anna:pw@h:5/b".to_owned()),
            &Environment::default(),
        );
        assert_eq!(kept.target, "postgres://anna@h:5/b");
        for (word, shown) in [
            ("postgres://anna:pw@h:5/b", "postgres://anna@h:5/b"),
            (
                "--database=postgres://anna:pw@h:5/b",
                "--database=postgres://anna@h:5/b",
            ),
            ("http://h:5", "http://h:5"),
            ("as in postgres://a:b@c", "as in postgres://a:b@c"),
        ] {
            assert_eq!(without_password(word), shown);
        }
    }

    #[test]
    fn a_request_in_flight_is_not_taken_for_a_lost_one() {
        let folder = tempfile::tempdir().expect("a folder");
        let pending = Pending {
            folder: Some(folder.path().to_owned()),
            target: "t".to_owned(),
            place: None,
            offered: false,
        };
        let request = Request {
            id: Uuid::from_u128(7),
            act: "undo".to_owned(),
            target: "t".to_owned(),
            command: "ellwand undo".to_owned(),
            body: Value::Null,
        };
        let kept = write(folder.path(), &request).expect("a writable folder");
        assert!(pending.unanswered().is_empty());
        kept.end(Ended::TurnedAway);
        assert!(pending.unanswered().is_empty(), "it was never booked");
        write(folder.path(), &request)
            .expect("a writable folder")
            .end(Ended::Lost);
        assert_eq!(pending.unanswered().len(), 1);
        write(folder.path(), &request)
            .expect("a writable folder")
            .end(Ended::TurnedAway);
        assert_eq!(
            pending.unanswered().len(),
            1,
            "it may have been booked at first"
        );
        write(folder.path(), &request)
            .expect("a writable folder")
            .end(Ended::Answered);
        assert!(pending.unanswered().is_empty());
    }
}

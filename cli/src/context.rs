//! What a command works with: the book, the terminal, and the command line.

use crate::{
    client::{Askable, Client},
    command_error::CommandError,
    config::{Config, Target},
    environment::Environment,
    fault::Ended,
    global::{Format, Global},
    pending::{Kept, Pending},
    signed_in::SignedIn,
    ui::{Shown, Ui},
};
use ellwand_contract::{
    Act, ProblemType, Sending, bookings::GetRequest, json, waiting::Waiting, workshop::GetWorkshop,
};
use ellwand_domain::setting::UnitSystem;
use serde::Serialize;
use serde_json::Value;
use std::ffi::OsString;
use uuid::Uuid;

/// Sends a request in this way; true when it had been booked before.
type Send<'a> = &'a mut dyn FnMut(Sending) -> Result<bool, CommandError>;

/// What a command works with.
pub struct Context<'c, 'w> {
    /// The terminal.
    pub ui: &'c mut Ui<'w>,
    environment: &'c Environment,
    global: &'c Global,
    config: Config,
    client: Option<Client>,
    pending: Pending,
    id: Option<Uuid>,
    shown: Option<Shown>,
    command_line: Vec<String>,
}

impl<'c, 'w> Context<'c, 'w> {
    /// Reads the configuration; the book is opened by the first call.
    ///
    /// # Errors
    /// Exit 2 when the configuration is at fault.
    pub fn new(
        global: &'c Global,
        environment: &'c Environment,
        args: &[OsString],
        ui: &'c mut Ui<'w>,
    ) -> Result<Self, CommandError> {
        let config = Config::load(global, environment)?;
        let command_line: Vec<String> = args
            .iter()
            .map(|arg| arg.to_string_lossy().into_owned())
            .collect();
        let pending = Pending::new(&config.target, environment);
        Ok(Self {
            ui,
            environment,
            global,
            config,
            client: None,
            pending,
            id: global.id,
            shown: None,
            command_line,
        })
    }

    /// The environment of the run.
    #[must_use]
    pub fn environment(&self) -> &'c Environment {
        self.environment
    }

    /// The settings of the run.
    #[must_use]
    pub fn config(&self) -> &Config {
        &self.config
    }

    /// Asks another book than the configured one, once.
    pub fn ask_once<A: Askable>(
        &mut self,
        config: &Config,
        act: &A,
    ) -> Result<A::Answer, CommandError> {
        let mut client = Client::new(config, self.environment)?;
        Ok(client.call(act)?.answer)
    }

    /// True for `--json` and `--format`: the answer is for another program.
    #[must_use]
    pub fn is_json(&self) -> bool {
        self.global.json || self.global.format.is_some()
    }

    /// True for `--yes`.
    #[must_use]
    pub fn is_yes(&self) -> bool {
        self.global.yes
    }

    /// The value of `--units`, when typed.
    #[must_use]
    pub fn typed_units(&self) -> Option<UnitSystem> {
        self.global.units
    }

    /// True when questions can be asked: on a terminal, without `--yes` and `--json`.
    #[must_use]
    pub fn may_ask(&self) -> bool {
        let terminal = self.environment.input_is_terminal && self.environment.messages_are_terminal;
        terminal && !self.global.yes && !self.is_json()
    }

    /// The id of a write request: the one given by `--id` for the first, else a new one.
    pub fn new_id(&mut self) -> Uuid {
        self.id.take().unwrap_or_else(Uuid::now_v7)
    }

    /// The request that was sent under the id given by `--id`, when it was answered: a command that works its request out
    /// sends this one again rather than another.
    pub fn sent_before<A: Act>(&mut self) -> Result<Option<A>, CommandError> {
        let Some(request) = self.id else {
            return Ok(None);
        };
        match self.call(&GetRequest { request }) {
            Ok(kept) if kept.act == A::NAME => Ok(json::read(&kept.content.to_string()).ok()),
            Ok(_) => Ok(None),
            Err(CommandError::Problem { problem, .. }) if problem.kind == ProblemType::NotFound => {
                Ok(None)
            }
            Err(error) => Err(error),
        }
    }

    /// Adds words to the command that repeats the request: what was resolved or answered at a question.
    pub fn add_to_command(&mut self, words: impl IntoIterator<Item = String>) {
        self.command_line.extend(words);
    }

    /// The command as it would be typed without questions.
    #[must_use]
    pub fn command(&self) -> String {
        self.pending.command(&self.command_line, None)
    }

    /// Asks the book. A write is kept until it is answered, so that it can be repeated.
    ///
    /// # Errors
    /// Refusals (exit 1), faults of the book's file (2), no answer (3), not allowed (4).
    pub fn call<A: Askable>(&mut self, act: &A) -> Result<A::Answer, CommandError> {
        let mut client = match self.client.take() {
            Some(client) => client,
            None => self.first_client(A::NAME)?,
        };
        let outcome = self.ask(&mut client, act);
        self.client = Some(client);
        outcome
    }

    /// Opens the book for a write that reads something first, so that a new one begins with it.
    ///
    /// # Errors
    /// As [`Self::call`].
    pub fn begin<A: Act>(&mut self) -> Result<(), CommandError> {
        if self.client.is_none() {
            self.client = Some(self.first_client(A::NAME)?);
        }
        Ok(())
    }

    fn first_client(&mut self, act: &str) -> Result<Client, CommandError> {
        let mut client = Client::new(&self.config, self.environment)?;
        client.open(act).map_err(|fault| {
            let error = CommandError::from(fault);
            error.repeat_with(self.pending.command(&self.command_line, None))
        })?;
        let (own, may_ask) = (self.global.id, self.may_ask());
        self.pending.offer(&mut client, self.ui, own, may_ask)?;
        Ok(client)
    }

    fn ask<A: Askable>(&mut self, client: &mut Client, act: &A) -> Result<A::Answer, CommandError> {
        let mut answer = None;
        // Who waits for news is waiting already.
        let is_read = act.patience_s() == 0 && self.is_read();
        let says = self.waited_for(A::NAME);
        let mut send = |sending| {
            let waiting = Waiting::new(says.clone(), is_read);
            let outcome = client.send(act, sending);
            drop(waiting);
            let outcome = outcome?;
            answer = Some(outcome.answer);
            Ok(outcome.repeated)
        };
        match act.request_id().filter(|_| !act.is_trial()) {
            None => self.send_read(&mut send)?,
            Some(id) => {
                let fields = json::tree(act).map_err(|error| error.to_string());
                self.send_write(id, (A::NAME, &fields), &mut send)?;
            }
        }
        self.remember_server();
        answer.ok_or_else(|| CommandError::Output(std::io::ErrorKind::UnexpectedEof.into()))
    }

    /// What may take longer than a second.
    fn waited_for(&self, act: &str) -> String {
        match (&self.config.target, act) {
            (_, "run_audit") => "Proving the book".to_owned(),
            (Target::Server(url), _) => format!("Waiting for {url}"),
            _ => "Reading the book".to_owned(),
        }
    }

    /// True when messages are for a person at a terminal.
    fn is_read(&self) -> bool {
        self.environment.messages_are_terminal && !self.is_json()
    }

    fn send_read(&mut self, send: Send<'_>) -> Result<(), CommandError> {
        let command = self.pending.command(&self.command_line, None);
        send(Sending::default())
            .map(|_| ())
            .map_err(|error| error.repeat_with(command))
    }

    /// Sends a write that is kept until it is answered.
    fn send_write(
        &mut self,
        id: Uuid,
        request: (&str, &Result<Value, String>),
        send: Send<'_>,
    ) -> Result<(), CommandError> {
        let kept = self.pending.keep(id, request, &self.command_line);
        if let Err(message) = &kept {
            self.ui.warning(message);
        }
        let repeat = self.global.id == Some(id) || kept.as_ref().is_ok_and(Kept::is_again);
        let sending = Sending {
            repeat,
            at: self.environment.time(),
            clock_confirmed: false,
        };
        let mut result = send(sending);
        let mut ended = result
            .as_ref()
            .map_or_else(CommandError::ended, |_| Ended::Answered);
        if let Err(CommandError::Problem { problem, .. }) = &result
            && problem.kind == ProblemType::ClockInDoubt
            && (self.global.yes || self.may_ask())
        {
            self.ui.warning(&problem.detail);
            // A no leaves the request as it was: turned away.
            result = self.confirm("Use the clock as it is?").and_then(|()| {
                let confirmed = Sending {
                    clock_confirmed: true,
                    ..sending
                };
                let again = send(confirmed);
                ended = again
                    .as_ref()
                    .map_or_else(CommandError::ended, |_| Ended::Answered);
                again
            });
        }
        if let Ok(kept) = kept {
            kept.end(ended);
        }
        let command = self.pending.command(&self.command_line, Some(id));
        if result.map_err(|error| error.repeat_with(command))? {
            self.ui
                .status("This request was already booked; here is its first answer.");
        }
        Ok(())
    }

    /// Keeps which server has answered, so that a run that names none does not take the book on this machine for it.
    fn remember_server(&mut self) {
        let Target::Server(url) = &self.config.target else {
            return;
        };
        if self.config.last_server.as_ref() == Some(url) || self.environment.config_dir.is_none() {
            return;
        }
        let url = url.clone();
        let kept = SignedIn::read(self.environment).and_then(|mut kept| {
            kept.last = Some(url.clone());
            kept.write(self.environment)
        });
        if let Err(error) = kept {
            self.ui
                .warning(format!("the server is not remembered: {}", error.message()));
        }
        self.config.last_server = Some(url);
    }

    /// Prints an answer as JSON or as rows, where that is asked for; true if it did.
    pub fn json(&mut self, answer: &impl Serialize) -> Result<bool, CommandError> {
        match self.global.format {
            Some(Format::Csv) => self.ui.csv(answer)?,
            None if self.global.json => self.ui.json(answer)?,
            None => return Ok(false),
        }
        Ok(true)
    }

    /// The answer to a request, unless it was printed as JSON.
    pub fn answer<A: Askable>(&mut self, act: &A) -> Result<Option<A::Answer>, CommandError> {
        let answer = self.call(act)?;
        Ok(if self.json(&answer)? {
            None
        } else {
            Some(answer)
        })
    }

    /// How quantities are shown: by `--units` or the configuration, else as the workshop likes it.
    pub fn shown(&mut self) -> Result<Shown, CommandError> {
        if let Some(shown) = self.shown {
            return Ok(shown);
        }
        let workshop = self.call(&GetWorkshop {})?;
        let shown = Shown::new(
            self.config.units.unwrap_or(workshop.units),
            &workshop.currency,
        );
        self.shown = Some(shown);
        Ok(shown)
    }

    /// How quantities are shown by what needs no book: as [`Self::shown`] where there is one that answers, else metric. None is
    /// made.
    pub fn shown_without_book(&mut self) -> Shown {
        let by_units = |units| Shown::new(units, "");
        if let Some(units) = self.config.units {
            return by_units(units);
        }
        let absent = matches!(&self.config.target, Target::File { path, .. } if !path.exists());
        let shown = if absent { None } else { self.shown().ok() };
        shown.unwrap_or_else(|| by_units(UnitSystem::Metric))
    }

    /// True where all was confirmed beforehand, with `--yes`.
    pub const fn is_confirmed(&self) -> bool {
        self.global.yes
    }

    /// Asks yes or no; `--yes` answers yes. Where no question can be asked, `--yes` is required.
    ///
    /// # Errors
    /// [`CommandError::Declined`] on no, exit 2 without a terminal, 130 when interrupted.
    pub fn confirm(&mut self, question: &str) -> Result<(), CommandError> {
        if self.global.yes {
            return Ok(());
        }
        if !self.may_ask() {
            return Err(CommandError::usage_hint(
                "this needs confirmation, and there is no terminal to ask on",
                "check what is shown, then run it again with --yes",
            ));
        }
        if crate::ui::prompt::confirm(question)? {
            Ok(())
        } else {
            Err(CommandError::Declined)
        }
    }
}

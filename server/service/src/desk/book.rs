//! An open book and the one door to it.

use crate::desk::{
    Desk,
    caller::{Caller, Who},
    clock::Clock,
    context::Context,
    failure::{Done, Failure, invalid, storage_problem},
    perform::Perform,
};
use chrono::{DateTime, Utc};
use ellwand_contract::{
    Act, Outcome, Problem, ProblemType, Sending,
    access::{self, Sees},
    json,
    people::Secret,
    text::is_refused,
};
use ellwand_storage::{Db, OpenOptions, Request, StorageError, TableContent, Tx, Written};
use serde_json::Value;
use std::path::Path;
use uuid::Uuid;

/// How to open a book.
#[derive(Debug, Clone, Copy)]
pub struct Options {
    /// Where the time comes from.
    pub clock: Clock,
    /// Make the book when there is none, and bring an older one up to date.
    pub create: bool,
}

/// A handle on an open book; clones share it.
#[derive(Clone)]
pub struct Book {
    db: Db,
    clock: Clock,
}

impl Book {
    /// Opens the book of an address: `sqlite:///path/to/file` or `postgres://host/name`.
    ///
    /// # Errors
    /// A [`Problem`] that says why the book cannot be opened and what to do.
    pub fn open(url: &str, options: Options) -> Result<Self, Problem> {
        Self::open_with(url, options, OpenOptions::default())
    }

    /// The same with this many connections at most.
    ///
    /// # Errors
    /// As [`Self::open`].
    pub fn open_for_many(url: &str, options: Options, connections: u32) -> Result<Self, Problem> {
        Self::open_with(
            url,
            options,
            OpenOptions {
                connections,
                ..OpenOptions::default()
            },
        )
    }

    /// The same while nobody else has the book open; where it is a file, that is seen to.
    ///
    /// # Errors
    /// As [`Self::open`], and when another process has it open.
    pub fn open_alone(url: &str, options: Options) -> Result<Self, Problem> {
        Self::open_with(
            url,
            options,
            OpenOptions {
                alone: true,
                ..OpenOptions::default()
            },
        )
    }

    fn open_with(url: &str, options: Options, storage: OpenOptions) -> Result<Self, Problem> {
        let storage = OpenOptions {
            create: options.create,
            ..storage
        };
        let db = Db::open(url, &storage).map_err(|error| storage_problem(&error))?;
        Ok(Self {
            db,
            clock: options.clock,
        })
    }

    /// Performs an act for someone who is known.
    ///
    /// A read sees one snapshot. A write happens wholly or not at all, and is kept with its request: the same
    /// request again gets the first answer, with `repeated` set.
    ///
    /// # Errors
    /// A [`Problem`]; nothing has changed then.
    pub fn call<A: Perform>(
        &self,
        caller: &Caller,
        act: &A,
    ) -> Result<Outcome<A::Answer>, Problem> {
        self.send(caller, act, Sending::default())
    }

    /// The same for a request that says how it is sent.
    ///
    /// # Errors
    /// As [`Self::call`].
    pub fn send<A: Perform>(
        &self,
        caller: &Caller,
        act: &A,
        sending: Sending,
    ) -> Result<Outcome<A::Answer>, Problem> {
        self.ask(&Who::Known(caller), act, sending)
    }

    /// Performs an act for whoever holds a token; it is looked up in the act's own transaction.
    ///
    /// # Errors
    /// As [`Self::call`]; [`ProblemType::NotSignedIn`] for a token that is not known or was taken back.
    pub fn call_signed<A: Perform>(
        &self,
        token: &Secret,
        act: &A,
    ) -> Result<Outcome<A::Answer>, Problem> {
        self.send_signed(token, act, Sending::default())
    }

    /// The same for a request that says how it is sent.
    ///
    /// # Errors
    /// As [`Self::call_signed`].
    pub fn send_signed<A: Perform>(
        &self,
        token: &Secret,
        act: &A,
        sending: Sending,
    ) -> Result<Outcome<A::Answer>, Problem> {
        self.ask(&Who::Holder(token.hash()), act, sending)
    }

    /// Copies everything into an empty book, all of it or nothing, and proves that it is the same.
    ///
    /// # Errors
    /// A [`Problem`]; the other book is as it was then.
    pub fn copy_into(&self, target: &Self) -> Result<Vec<TableContent>, Problem> {
        self.db
            .copy_into(&target.db)
            .map_err(|error| storage_problem(&error))
    }

    /// What the book holds, table by table.
    ///
    /// # Errors
    /// A [`Problem`], when the database fails.
    pub fn content(&self) -> Result<Vec<TableContent>, Problem> {
        self.db
            .read(|tx| tx.content())
            .map_err(|error: StorageError| storage_problem(&error))
    }

    /// Whether the book could be written to: a file has room on its disk, a server takes writes.
    ///
    /// # Errors
    /// A [`Problem`] that says what is in the way.
    pub fn takes_writes(&self) -> Result<(), Problem> {
        self.db
            .takes_writes()
            .map_err(|error| storage_problem(&error))
    }

    /// Ends all work on the book, for this handle and its clones: a file holds everything in itself then, unless others
    /// have it open. Dropping the last handle does the same and says nothing.
    ///
    /// # Errors
    /// A [`Problem`]; nothing that was answered is lost then.
    pub fn close(&self) -> Result<(), Problem> {
        self.db.close().map_err(|error| storage_problem(&error))
    }

    /// Writes since it was opened, and the commits they took.
    #[must_use]
    pub fn written(&self) -> Written {
        self.db.written()
    }

    fn ask<A: Perform>(
        &self,
        who: &Who<'_>,
        act: &A,
        sending: Sending,
    ) -> Result<Outcome<A::Answer>, Problem> {
        let now = self.clock.now();
        let Some(id) = act.request_id() else {
            return self.look(who, act, now);
        };
        let done = self.db.write(Box::new(move |tx: &mut Tx<'_>| {
            let caller = who.is(tx, now)?;
            caller.may::<A>()?;
            let caller = caller.known(tx)?;
            match written(tx, &caller, (now, sending), id, act) {
                Ok(Outcome { answer, repeated }) => Ok(Outcome {
                    answer: concealed::<A>(Ok(answer), caller.sees())?,
                    repeated,
                }),
                Err(failure) => Err(failure.concealed(caller.sees())),
            }
        }));
        match done {
            Err(Failure::Refused(problem))
                if sending.repeat && !act.is_trial() && settles(&problem) =>
            {
                self.settle(who, act, (id, now), *problem)
            }
            done => done.map_err(Problem::from),
        }
    }

    /// Performs a read.
    fn look<A: Perform>(
        &self,
        who: &Who<'_>,
        act: &A,
        now: DateTime<Utc>,
    ) -> Result<Outcome<A::Answer>, Problem> {
        let done = self.db.read(|tx| {
            let caller = who.is(tx, now)?;
            caller.may::<A>()?;
            let context = Context::new(tx, &caller, now)?;
            let done = act.perform(&mut Desk::new(tx, &context));
            let answer = concealed::<A>(done, caller.sees())?;
            let used = caller.first_use(context.today);
            Ok((answer, used.map(|token| (token, context.today))))
        });
        let (answer, used) = done.map_err(|failure: Failure| Problem::from(failure))?;
        if let Some((token, day)) = used {
            // Who only asks gets the answer of a book that takes no writes, too.
            let noted: Result<(), Failure> = self.db.write(Box::new(move |tx: &mut Tx<'_>| {
                Ok(tx.use_token(token, day)?)
            }));
            drop(noted);
        }
        Ok(Outcome {
            answer,
            repeated: false,
        })
    }

    /// Records the refusal of a repeat as the final answer of its id, unless the first sending was answered meanwhile.
    fn settle<A: Perform>(
        &self,
        who: &Who<'_>,
        act: &A,
        (id, now): (Uuid, DateTime<Utc>),
        problem: Problem,
    ) -> Result<Outcome<A::Answer>, Problem> {
        let refused = Request {
            id: id.to_string(),
            act: A::NAME.to_owned(),
            caller: String::new(),
            content: text_of(act)?,
            answer: text_of(&problem)?,
            answered_at: now.naive_utc(),
            erased_at: None,
            refused: true,
        };
        match self.settled((who, now), Caller::may::<A>, &refused)? {
            Some((answer, caller)) => {
                let Outcome { answer, repeated } = read_again::<A>(&answer)?;
                let answer = concealed::<A>(Ok(answer), caller.sees()).map_err(Problem::from)?;
                Ok(Outcome { answer, repeated })
            }
            None => Err(final_refusal(problem)),
        }
    }

    /// Keeps a refusal, or finds the answer that the first sending got meanwhile.
    fn settled(
        &self,
        (who, now): (&Who<'_>, DateTime<Utc>),
        may: fn(&Caller) -> Result<(), Failure>,
        refused: &Request,
    ) -> Result<Option<(String, Caller)>, Problem> {
        let done = self
            .db
            .write(Box::new(move |tx: &mut Tx<'_>| -> Result<_, Failure> {
                let caller = who.is(tx, now)?;
                may(&caller)?;
                if let Some(first) = tx.request(&refused.id)? {
                    let answer =
                        first_answer(first, refused.act.as_str(), &caller, &refused.content)
                            .map_err(|failure| failure.concealed(caller.sees()))?;
                    return Ok(Some((answer, caller)));
                }
                readable(&refused.content)?;
                tx.insert_request(&Request {
                    caller: caller.name,
                    ..refused.clone()
                })?;
                Ok(None)
            }));
        done.map_err(Problem::from)
    }
}

/// An answer, or a refusal, without what the reader may not see: its fields, and amounts of money in its texts.
fn concealed<A: Act>(done: Done<A::Answer>, sees: Sees) -> Done<A::Answer> {
    let mut answer = done.map_err(|failure| failure.concealed(sees))?;
    A::conceal(&mut answer, sees);
    if sees.prices {
        return Ok(answer);
    }
    let mut tree: Value = json::read(&text_of(&answer)?).map_err(|error| unreadable(&error))?;
    if access::strike_amounts(&mut tree) {
        answer = json::read(&text_of(&tree)?).map_err(|error| unreadable(&error))?;
    }
    Ok(answer)
}

/// True for refusals by the book itself. Who is turned away at the door, is asked about the clock, or meets a failure, is not
/// refused for good and asks again.
fn settles(problem: &Problem) -> bool {
    let at_the_door = matches!(
        problem.kind,
        ProblemType::NotSignedIn
            | ProblemType::NotAllowed
            | ProblemType::TooMany
            | ProblemType::ClockInDoubt
    );
    problem.status < 500 && !at_the_door
}

/// The refusal that every sending of a request gets once a repeat of it was refused.
fn final_refusal(problem: Problem) -> Problem {
    const FINAL: &str = "this answer to the id is final: make a new request without it";
    let hint = problem
        .hint
        .as_ref()
        .map_or_else(|| FINAL.to_owned(), |hint| format!("{hint}; {FINAL}"));
    problem.hint(hint)
}

/// Copies the book in a file into a new file that alone holds everything, whatever of it is still in the log beside it.
///
/// # Errors
/// A [`Problem`]; the first one is as it was.
pub fn snapshot(from: &Path, to: &Path) -> Result<(), Problem> {
    ellwand_storage::snapshot(from, to).map_err(|error| storage_problem(&error))
}

/// Books an act with its request, or finds its first answer.
fn written<A: Perform>(
    tx: &mut Tx<'_>,
    caller: &Caller,
    (now, sending): (DateTime<Utc>, Sending),
    id: Uuid,
    act: &A,
) -> Result<Outcome<A::Answer>, Failure> {
    let content = text_of(act)?;
    if let Some(request) = tx.request(&id.to_string())? {
        return Ok(read_again::<A>(&first_answer(
            request,
            A::NAME,
            caller,
            &content,
        )?)?);
    }
    readable(&content)?;
    let context = Context::writing(tx, caller, (id, now), sending)?;
    if let Some(token) = caller.first_use(context.today) {
        tx.use_token(token, context.today)?;
    }
    let mut desk = Desk::new(tx, &context);
    if act.is_trial() {
        return Ok(Outcome {
            answer: desk.aside(|desk| act.perform(desk))??,
            repeated: false,
        });
    }
    let answer = act.perform(&mut desk)?;
    let request = Request {
        id: id.to_string(),
        act: A::NAME.to_owned(),
        caller: caller.name.clone(),
        content,
        answer: text_of(&answer)?,
        answered_at: now.naive_utc(),
        erased_at: None,
        refused: false,
    };
    tx.insert_request(&request)?;
    Ok(Outcome {
        answer,
        repeated: false,
    })
}

/// Refuses text that a terminal would obey, wherever it stands in a request.
fn readable(content: &str) -> Result<(), Failure> {
    // JSON escapes the control characters of ASCII; most requests hold neither those nor the others.
    if !content.contains('\\') && !content.contains(is_refused) {
        return Ok(());
    }
    let fields: serde_json::Map<String, Value> = serde_json::from_str(content).unwrap_or_default();
    match fields.iter().find(|(_, value)| holds_refused(value)) {
        None => Ok(()),
        Some((field, _)) => Err(Problem::from(invalid(
            field,
            format!("{field} holds control characters, which are not allowed"),
        ))
        .hint("type it by hand; copied text may carry them along")
        .into()),
    }
}

fn holds_refused(value: &Value) -> bool {
    match value {
        Value::String(text) => text.contains(is_refused),
        Value::Array(items) => items.iter().any(holds_refused),
        Value::Object(fields) => fields
            .iter()
            .any(|(name, value)| name.contains(is_refused) || holds_refused(value)),
        Value::Null | Value::Bool(_) | Value::Number(_) => false,
    }
}

fn text_of(value: &impl serde::Serialize) -> Result<String, Problem> {
    json::write(value).map_err(|error| {
        Problem::new(
            ProblemType::Internal,
            format!("cannot be written as JSON: {error}"),
        )
    })
}

/// The first answer of a request that came before, if it is the same one; an error, where that was its final refusal.
fn first_answer(
    request: Request,
    act: &str,
    caller: &Caller,
    content: &str,
) -> Result<String, Failure> {
    let differs = |field: &str, what: &str| -> Failure {
        Problem::new(
            ProblemType::ExistsWithDifferent,
            format!(
                "the request {} was already used with another {what}",
                request.id
            ),
        )
        .field(field)
        .hint("leave the id out to make a new request")
        .into()
    };
    if request.act != act {
        return Err(differs("act", "act"));
    }
    if request.caller != caller.name {
        return Err(differs("caller", "caller"));
    }
    if request.erased_at.is_some() {
        return Err(erased(&request));
    }
    if request.content != content {
        let field = differing_field(&request.content, content);
        return Err(differs(&field, &field));
    }
    if request.refused {
        let problem = json::read(&request.answer).map_err(|error| unreadable(&error))?;
        return Err(final_refusal(problem).into());
    }
    Ok(request.answer)
}

fn read_again<A: Act>(answer: &str) -> Result<Outcome<A::Answer>, Problem> {
    let answer = json::read(answer).map_err(|error| unreadable(&error))?;
    Ok(Outcome {
        answer,
        repeated: true,
    })
}

fn unreadable(error: &serde_json::Error) -> Problem {
    Problem::new(
        ProblemType::Internal,
        format!("the kept answer cannot be read: {error}"),
    )
}

/// What a request did stands, and what it said is gone.
pub(crate) fn erased(request: &Request) -> Failure {
    let detail = format!(
        "the request {} was answered, but its record was erased with the name of a customer",
        request.id
    );
    Problem::new(ProblemType::NotFound, detail)
        .hint("see ellwand history")
        .into()
}

/// Name of the first field in which two JSON objects differ.
fn differing_field(first: &str, second: &str) -> String {
    let object = |text: &str| {
        serde_json::from_str::<serde_json::Map<String, Value>>(text).unwrap_or_default()
    };
    let (first, second) = (object(first), object(second));
    let names = first.keys().chain(second.keys());
    names
        .into_iter()
        .find(|name| first.get(*name) != second.get(*name))
        .cloned()
        .unwrap_or_else(|| "content".to_owned())
}

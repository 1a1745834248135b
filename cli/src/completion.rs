//! What a shell may offer at the word that is being typed: codes and names of the book, and the words of closed lists.
//!
//! The book is read within a time that nobody notices, else nothing of it is offered. Nothing is asked, kept or booked, and
//! only codes, names, lengths and states are shown.

mod book;
mod pairs;

use crate::{
    arguments::Cli, commands::help, config::Config, environment::Environment, global::Global,
};
use book::{Book, Source};
use clap::{Arg, Command, CommandFactory};
use clap_complete::{
    engine::{ArgValueCompleter, CompletionCandidate},
    env::{Bash, EnvCompleter, Fish, Zsh},
};
use ellwand_contract::pairs::PairsError;
use ellwand_domain::setting::WordError;
use std::{
    error::Error,
    ffi::{OsStr, OsString},
    io::Write,
    sync::Arc,
    time::Duration,
};

/// The variable in which a shell names itself when it asks.
pub const VARIABLE: &str = "ELLWAND_COMPLETE";

/// How long a shell waits for the book.
pub const PATIENCE: Duration = Duration::from_millis(300);

/// A shell that can ask, by its name.
pub(crate) fn shell(name: &str) -> Option<&'static dyn EnvCompleter> {
    match name {
        "bash" => Some(&Bash),
        "zsh" => Some(&Zsh),
        "fish" => Some(&Fish),
        _ => None,
    }
}

/// How a shell puts a word into the line.
#[derive(Clone, Copy)]
struct Typing {
    /// As it is, so that spaces must be escaped; the others quote it.
    escapes: bool,
    /// A quote that is open is closed behind the only word that fits.
    closes: bool,
}

impl Typing {
    fn of(shell: &str) -> Self {
        Self {
            escapes: shell == "bash",
            closes: matches!(shell, "bash" | "zsh"),
        }
    }
}

/// Answers a shell: the words after `--` are the command line so far. Returns the exit code.
pub fn answer(name: &str, args: &[OsString], environment: &Environment, out: &mut dyn Write) -> u8 {
    let Some(shell) = shell(name) else { return 2 };
    let words: Vec<OsString> = args
        .iter()
        .skip_while(|arg| *arg != "--")
        .skip(1)
        .cloned()
        .collect();
    let mut offered = Vec::new();
    let mut command = command(&words, environment, Typing::of(name), PATIENCE);
    let written = shell
        .write_complete(&mut command, words, None, &mut offered)
        .and_then(|()| out.write_all(&offered));
    written.map_or(1, |()| 0)
}

/// What may stand at the word of this index, of which the beginning is typed; the book is waited for so long.
///
/// # Errors
/// The index is no word's.
pub fn candidates(
    words: Vec<OsString>,
    index: usize,
    environment: &Environment,
    patience: Duration,
) -> std::io::Result<Vec<CompletionCandidate>> {
    let mut command = command(&words, environment, Typing::of(""), patience);
    clap_complete::engine::complete(&mut command, words, index, None)
}

/// The commands, each argument with what can be offered for it.
fn command(
    words: &[OsString],
    environment: &Environment,
    typing: Typing,
    patience: Duration,
) -> Command {
    let words: Vec<String> = words
        .iter()
        .map(|word| word.to_string_lossy().into_owned())
        .collect();
    let after = |flag: &str| {
        let at = words.iter().position(|word| word == flag)?;
        words.get(at.checked_add(1)?).cloned()
    };
    let flags = Global {
        server: after("--server"),
        database: after("--database"),
        ..Global::default()
    };
    let config = Config::load(&flags, environment).ok();
    let book = Arc::new(Book::new(config, environment.clone(), words, patience));
    let mut command = Cli::command();
    command.build();
    completed(command, "", &book, typing)
}

fn completed(command: Command, noun: &str, book: &Arc<Book>, typing: Typing) -> Command {
    command
        .mut_args(|arg| match source(noun, &arg) {
            Some(source) => {
                let book = Arc::clone(book);
                let offer = move |typed: &OsStr| {
                    let typed = typed.to_string_lossy();
                    // Some shells pass a quote that is still open, and put it back themselves.
                    let typed = typed.trim_start_matches(['\'', '"']);
                    if let Source::Pairs(flags) = &source {
                        // They stand in quotes, so that nothing of them is escaped.
                        let all = pairs::offered(flags, typed, typing.closes).into_iter();
                        return all.map(CompletionCandidate::new).collect();
                    }
                    let typed = typed.to_lowercase();
                    let all = book.values(&source).into_iter();
                    all.filter(|(value, _)| value.to_lowercase().starts_with(&typed))
                        .map(|(value, about)| {
                            let value = if typing.escapes {
                                value.replace(' ', "\\ ")
                            } else {
                                value
                            };
                            CompletionCandidate::new(value).help(about.map(Into::into))
                        })
                        .collect()
                };
                arg.add(ArgValueCompleter::new(offer))
            }
            None => arg,
        })
        .mut_subcommands(|inner| {
            let noun = if noun.is_empty() {
                inner.get_name().to_owned()
            } else {
                noun.to_owned()
            };
            completed(inner, &noun, book, typing)
        })
}

/// Where the values of an argument come from, by its name in the help; none where only the user knows.
fn source(noun: &str, arg: &Arg) -> Option<Source> {
    // What may follow a code stands in brackets: PIECE[:N].
    let name = arg.get_value_names()?.first()?.split('[').next()?;
    Some(match (name, noun, arg.get_long()) {
        ("GARMENT", ..) => Source::Garments,
        ("PIECE", ..) => Source::Pieces,
        ("LOT", ..) => Source::Lots,
        ("QUOTATION", ..) => Source::Quotations,
        ("PROMISE", ..) => Source::Promises,
        ("BOOKING", ..) => Source::Bookings,
        ("PLACE", "lot" | "shelf", _) => Source::Places,
        ("ROLE" | "NEED", ..) => Source::Needs,
        ("OPERATION", ..) => Source::Operations,
        ("PERSON", ..) | ("NAME", "person", None) | ("NAME", "token", Some("person")) => {
            Source::People
        }
        ("NAME", "operation", None) => Source::UsualOperations,
        ("CUSTOMER", ..) => Source::Customers,
        ("SUPPLIER", ..) | ("NAME", "buy", Some("supplier")) => Source::Suppliers,
        ("CODE", "material", None) => Source::Materials,
        ("CODE", "buy", None) => Source::Purchases,
        ("TOKEN", ..) => Source::Tokens,
        ("TOPIC", ..) => Source::Words(topics()),
        _ => return closed(arg),
    })
}

/// The words of a closed list, or the keys of pairs, as their reader names them when it is given what it cannot read.
fn closed(arg: &Arg) -> Option<Source> {
    let alone = Arg::new("value").value_parser(arg.get_value_parser().clone());
    let refused = Command::new("value")
        .no_binary_name(true)
        .arg(alone)
        .try_get_matches_from(["\u{1}"]);
    let refused = refused.err()?;
    let source = refused.source()?;
    if let Some(pairs) = source.downcast_ref::<PairsError>() {
        return Some(Source::Pairs(pairs.flags().to_vec()));
    }
    let known = source.downcast_ref::<WordError>()?.known;
    Some(Source::Words(
        known.split(", ").map(str::to_owned).collect(),
    ))
}

fn topics() -> Vec<String> {
    let commands = Cli::command();
    let commands = commands
        .get_subcommands()
        .map(|command| command.get_name().to_owned());
    help::topics().map(str::to_owned).chain(commands).collect()
}

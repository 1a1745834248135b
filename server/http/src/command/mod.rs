//! The program's commands and their exit status: 0 done, 1 findings, 2 command line or settings, 3 failed.

mod backup;
mod check;
mod moving;
mod token;

use crate::{
    config::{Arguments, BackupArguments, Command, Config, ConfigError},
    openapi,
    running::{self, Stop},
    telemetry,
};
use actix_web::rt::{self, System};
use clap::{CommandFactory, Parser};
use ellwand_contract::{Problem, audit::RunAudit, text::counted, waiting::Waiting};
use ellwand_service::{Book, Caller, Clock, Options};
use std::{
    ffi::OsString,
    io::{self, ErrorKind, IsTerminal, Write},
    net::TcpListener,
    path::{Path, PathBuf},
};

/// Failure of a server command.
#[derive(Debug, thiserror::Error)]
enum CommandError {
    #[error(transparent)]
    Config(#[from] ConfigError),
    #[error("the log filter cannot be read: {0}")]
    Log(#[from] tracing_subscriber::filter::ParseError),
    #[error("cannot listen on {listen}: {cause}")]
    Listen {
        listen: std::net::SocketAddr,
        cause: io::Error,
    },
    #[error(transparent)]
    Io(#[from] io::Error),
    #[error("the token cannot be saved in {}: {cause}", file.display())]
    TokenFile { file: PathBuf, cause: io::Error },
    #[error("{0}")]
    Random(String),
    #[error("{0}")]
    Problem(Box<Problem>),
}

impl From<Problem> for CommandError {
    fn from(problem: Problem) -> Self {
        Self::Problem(Box::new(problem))
    }
}

impl CommandError {
    fn exit(&self) -> u8 {
        match self {
            Self::Config(_) | Self::Log(_) => 2,
            Self::Listen { .. } | Self::TokenFile { .. } | Self::Io(_) | Self::Random(_) => 3,
            Self::Problem(problem) => problem.kind.exit(),
        }
    }

    fn hint(&self) -> Option<&str> {
        match self {
            Self::TokenFile { .. } => {
                Some("name a new file, in a folder that this user can write to")
            }
            Self::Listen { .. } => {
                Some("stop what is listening there, or choose another port with --listen")
            }
            Self::Problem(problem) => problem.hint.as_deref(),
            Self::Config(_) | Self::Log(_) | Self::Io(_) | Self::Random(_) => None,
        }
    }
}

/// Runs a command line and returns its exit status.
pub fn run(args: impl IntoIterator<Item = OsString>) -> u8 {
    let arguments = match Arguments::try_parse_from(args) {
        Ok(arguments) => arguments,
        Err(error) => {
            // Nothing is left to be done where even the error cannot be printed.
            let _ = error.print();
            return u8::try_from(error.exit_code()).unwrap_or(2);
        }
    };
    match perform(&arguments) {
        Ok(status) => status,
        // Whoever read the output has gone: end quietly.
        Err(CommandError::Io(error)) if error.kind() == ErrorKind::BrokenPipe => 0,
        Err(error) => {
            let hint = error
                .hint()
                .map(|hint| format!("hint: {hint}\n"))
                .unwrap_or_default();
            let _ = write!(io::stderr(), "error: {error}\n{hint}");
            error.exit()
        }
    }
}

fn perform(arguments: &Arguments) -> Result<u8, CommandError> {
    let config = Config::new(arguments)?;
    let _waiting = Waiting::new(
        waited_for(&arguments.command).to_owned(),
        !waited_for(&arguments.command).is_empty() && io::stderr().is_terminal(),
    );
    match &arguments.command {
        Command::Serve(_) => serve(&config),
        Command::Migrate { backup_into } => migrate(&config, backup_into.as_deref()),
        Command::Check(_) => check::run(&config, arguments.config.as_deref()),
        Command::Audit => audit(&config),
        Command::Move { from, to } => {
            moving::book(&from.with(&config.password)?, &to.with(&config.password)?)
        }
        Command::Backup(arguments) => backup::run(&config, arguments),
        Command::Restore { file } => moving::restore(&config, file),
        Command::Token(command) => token::run(&config, command),
        Command::Manual { folder } => {
            std::fs::create_dir_all(folder)?;
            clap_mangen::generate_to(Arguments::command(), folder)?;
            Ok(0)
        }
        Command::Openapi => {
            writeln!(io::stdout(), "{}", openapi::pretty())?;
            Ok(0)
        }
    }
}

/// What a command does that may take longer than a second; nothing of one that is quick, that goes on, or that is to be quiet.
fn waited_for(command: &Command) -> &'static str {
    match command {
        Command::Migrate { .. } => "Bringing the book up to date",
        Command::Audit => "Proving the book",
        Command::Move { .. } => "Moving the book and proving the copy",
        Command::Backup(BackupArguments { quiet: false, .. }) => {
            "Copying the book and proving the copy"
        }
        Command::Restore { .. } => "Restoring the book and proving it",
        _ => "",
    }
}

/// Opens the book; only `migrate` may make one, so that a mistyped path never does.
fn open(config: &Config, create: bool) -> Result<Book, CommandError> {
    Ok(Book::open(
        config.database()?.expose(),
        Options {
            clock: Clock::system(),
            create,
        },
    )?)
}

fn serve(config: &Config) -> Result<u8, CommandError> {
    telemetry::start(config.log_format, &config.log)?;
    if let Some(tls) = &config.tls {
        // Before anything is opened, and as what it is: a fault of the settings.
        tls.load()?;
    }
    let connections = u32::try_from(config.connections).unwrap_or(u32::MAX);
    let options = Options {
        clock: Clock::system(),
        create: false,
    };
    let book = Book::open_for_many(config.database()?.expose(), options, connections)?;
    if !config.open {
        token::first(&book, config)?;
    }
    let listen = |cause| CommandError::Listen {
        listen: config.listen,
        cause,
    };
    let listener = TcpListener::bind(config.listen).map_err(listen)?;
    let address = listener.local_addr()?;
    System::new().block_on(async {
        let (server, stop) = running::serve(config, book.clone(), listener)?;
        stop_on_signals(&stop)?;
        let scheme = if config.tls.is_some() {
            "https"
        } else {
            "http"
        };
        tracing::info!(server.listen = %address, "listening on {scheme}://{address}");
        server.await
    })?;
    // Threads of the server may still hold the book, and end with the program.
    book.close()?;
    tracing::info!("stopped");
    Ok(0)
}

/// Lets requests under way end when the terminal or the system asks the server to stop.
fn stop_on_signals(stop: &Stop) -> io::Result<()> {
    let interrupted = stop.clone();
    rt::spawn(async move {
        if rt::signal::ctrl_c().await.is_ok() {
            interrupted.stop().await;
        }
    });
    #[cfg(unix)]
    {
        let terminated = stop.clone();
        use rt::signal::unix::{SignalKind, signal};
        let mut hung_up = signal(SignalKind::hangup())?;
        rt::spawn(async move {
            // A terminal that closes, or who expects settings to be read again: neither ends the server.
            while hung_up.recv().await.is_some() {
                tracing::info!(
                    "SIGHUP: settings and certificate are read at the start; restart to reload them"
                );
            }
        });
        let mut signal = signal(SignalKind::terminate())?;
        rt::spawn(async move {
            if signal.recv().await.is_some() {
                terminated.stop().await;
            }
        });
    }
    Ok(())
}

fn migrate(config: &Config, backup_into: Option<&Path>) -> Result<u8, CommandError> {
    if let Some(folder) = backup_into {
        backup::before_upgrade(config, folder)?;
    }
    open(config, true)?;
    writeln!(
        io::stderr(),
        "The book at {} is up to date.",
        config.database()?
    )?;
    Ok(0)
}

fn audit(config: &Config) -> Result<u8, CommandError> {
    let book = open(config, false)?;
    let audit = book.call(&Caller::owner("audit"), &RunAudit {})?.answer;
    let mut out = io::stdout().lock();
    for finding in &audit.findings {
        writeln!(
            out,
            "rule {}: {}: {}",
            finding.rule, finding.record, finding.detail
        )?;
    }
    writeln!(
        io::stderr(),
        "Proved {}, {}, {}, {}, {} and {}; {}.",
        counted(audit.bookings, "booking"),
        counted(audit.movements, "movement"),
        counted(audit.pieces, "piece"),
        counted(audit.layers, "layer"),
        counted(audit.purchases, "purchase"),
        if audit.stretches == 1 {
            "1 stretch".to_owned()
        } else {
            format!("{} stretches", audit.stretches)
        },
        counted(audit.findings.len(), "finding")
    )?;
    Ok(u8::from(!audit.findings.is_empty()))
}

//! Looks a set-up over before anyone relies on it.

use super::CommandError;
use crate::config::Config;
use chrono::{DateTime, Utc};
use ellwand_contract::{
    Problem,
    bookings::ListBookings,
    people::{ListTokens, Token},
    text::counted,
};
use ellwand_domain::setting::Role;
use ellwand_service::{Book, Caller, Clock, Options, is_in_the_clear};
use std::{
    io::{self, Write},
    net::TcpListener,
    path::Path,
};

/// Who is recorded for the check.
const BY: &str = "check";

/// Findings, line by line.
#[derive(Debug, Default)]
struct Findings {
    lines: Vec<String>,
    wrong: usize,
}

impl Findings {
    fn fine(&mut self, text: impl AsRef<str>) {
        self.lines.push(format!("fine:  {}", text.as_ref()));
    }

    fn wrong(&mut self, text: impl AsRef<str>, remedy: impl AsRef<str>) {
        self.wrong += 1;
        self.lines
            .push(format!("wrong: {}; {}", text.as_ref(), remedy.as_ref()));
    }

    fn problem(&mut self, what: &str, problem: &Problem) {
        self.wrong(
            format!("{what}: {}", problem.detail),
            problem.hint.as_deref().unwrap_or("see README"),
        );
    }
}

/// Runs `check`; 1 when something is wrong.
pub(super) fn run(config: &Config, file: Option<&Path>) -> Result<u8, CommandError> {
    let mut findings = Findings::default();
    if let Some(file) = file {
        private(
            &mut findings,
            file,
            "the settings file, which may hold a password,",
        );
    }
    listening(&mut findings, config);
    database(&mut findings, config)?;
    let mut out = io::stdout().lock();
    for line in &findings.lines {
        writeln!(out, "{line}")?;
    }
    Ok(u8::from(findings.wrong > 0))
}

fn listening(findings: &mut Findings, config: &Config) {
    match (config.open, config.listen.ip().is_loopback()) {
        (true, _) => findings.wrong(
            "the server needs no token: everyone on this machine may do everything",
            "remove open once others use the machine",
        ),
        (false, true) => findings.fine(format!(
            "{} is reached from this machine only",
            config.listen
        )),
        (false, false) => findings.fine(format!("{} demands tokens", config.listen)),
    }
    match &config.tls {
        None => {}
        Some(tls) => match tls.load() {
            Ok(_) => findings.fine(format!(
                "{} and its key belong together",
                tls.certificate.display()
            )),
            Err(error) => findings.wrong(
                error.to_string(),
                "give a PEM chain and the key that belongs to it",
            ),
        },
    }
    match TcpListener::bind(config.listen) {
        Ok(_) => findings.fine(format!("{} is free to listen on", config.listen)),
        Err(error) => findings.wrong(
            format!("cannot listen on {}: {error}", config.listen),
            "stop what is listening there (this server itself?), or choose another port",
        ),
    }
}

fn database(findings: &mut Findings, config: &Config) -> Result<(), CommandError> {
    let url = config.database()?;
    if let Some(path) = url.expose().strip_prefix("sqlite://") {
        private(
            findings,
            Path::new(path),
            "the book, which holds prices and names,",
        );
    }
    if is_in_the_clear(url.expose()) {
        findings.wrong(
            format!("what travels between here and {url} is not encrypted"),
            "write sslmode=verify-full in the address, or keep the database on this machine",
        );
    }
    let book = match Book::open(
        url.expose(),
        Options {
            clock: Clock::system(),
            create: false,
        },
    ) {
        Ok(book) => book,
        Err(problem) => {
            findings.problem(&format!("the book at {url}"), &problem);
            return Ok(());
        }
    };
    findings.fine(format!("the book at {url} opens and is up to date"));
    let caller = Caller::owner(BY);
    match book.call(&caller, &ListTokens {}) {
        Ok(outcome) => tokens(findings, &outcome.answer.tokens),
        Err(problem) => findings.problem("tokens", &problem),
    }
    let last = ListBookings {
        limit: Some(1),
        ..ListBookings::default()
    };
    match book.call(&caller, &last) {
        Ok(outcome) => {
            let newest = outcome
                .answer
                .bookings
                .first()
                .map(|booking| booking.booked_at.to_utc());
            clock(findings, newest, Clock::system().now());
        }
        Err(problem) => findings.problem("the history", &problem),
    }
    Ok(())
}

fn tokens(findings: &mut Findings, tokens: &[Token]) {
    let today = Clock::system().now().date_naive();
    let good: Vec<&Token> = tokens
        .iter()
        .filter(|token| token.revoked_at.is_none())
        // By the day of UTC, which is near enough for a warning.
        .filter(|token| token.until.is_none_or(|last| last >= today))
        .collect();
    let owners = good
        .iter()
        .filter(|token| token.role == Role::Owner)
        .count();
    match (tokens.is_empty(), owners) {
        (true, _) => findings.fine("there are no tokens yet: the first start makes the owner's"),
        (false, 0) => findings.wrong(
            "no owner has a token",
            "make one with ellwand-server token create NAME --role owner",
        ),
        (false, _) => {
            let are = if good.len() == 1 { "is" } else { "are" };
            let good = counted(good.len(), "token");
            findings.fine(format!("{good} {are} good, {owners} of them an owner's"));
        }
    }
}

/// A clock behind the last booking has jumped back and would give wrong days.
fn clock(findings: &mut Findings, newest: Option<DateTime<Utc>>, now: DateTime<Utc>) {
    match newest.filter(|newest| *newest > now) {
        None => findings.fine(format!(
            "the clock says {} UTC",
            now.format("%Y-%m-%d %H:%M")
        )),
        Some(newest) => findings.wrong(
            format!(
                "the clock says {} UTC, and the last booking was at {}",
                now.format("%Y-%m-%d %H:%M"),
                newest.format("%Y-%m-%d %H:%M")
            ),
            "set the clock: it decides which dates are in the future",
        ),
    }
}

#[cfg(unix)]
fn private(findings: &mut Findings, path: &Path, what: &str) {
    use std::os::unix::fs::PermissionsExt;
    let Ok(metadata) = std::fs::metadata(path) else {
        return;
    };
    let place = path.display();
    match metadata.permissions().mode() & 0o007 {
        0 => findings.fine(format!("{what} {place} is closed to strangers")),
        _ => findings.wrong(
            format!("{what} {place} is open to everyone on the machine"),
            format!("chmod o= {place}"),
        ),
    }
}

#[cfg(not(unix))]
fn private(_: &mut Findings, _: &Path, _: &str) {}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_clock_that_jumped_back_is_found() {
        let at = |text: &str| text.parse::<DateTime<Utc>>().expect("a time");
        let (early, late) = (at("2026-10-12T09:00:00Z"), at("2026-10-13T09:00:00Z"));
        for (newest, now, wrong) in [
            (None, early, 0),
            (Some(early), late, 0),
            (Some(late), early, 1),
        ] {
            let mut findings = Findings::default();
            clock(&mut findings, newest, now);
            assert_eq!(findings.wrong, wrong, "{findings:?}");
        }
    }
}

//! Thread counts as people type them.

use super::{LIMIT, Tex, YarnCount};
use crate::quantity::{
    QuantityError,
    fraction::Fraction,
    parse::{Reader, number},
};
use std::str::FromStr;

/// Most plies that a thread is read with.
const PLIES_MAX: i64 = 99;

const COUNT: Reader = reader(
    "the count of a thread",
    "30tex, Nm 50/2, 2x150den or metric ticket 120",
);
const BARE_TICKET: Reader = reader(
    "a count without metric or cotton",
    "metric ticket 120 or cotton ticket 70",
);
const BOTH_TICKETS: Reader = reader(
    "one count (metric and cotton tickets are different threads)",
    "metric ticket 120 alone",
);
const DIRECT_STROKE: Reader = reader(
    "a count that reads in one way only (plies multiply tex, dtex and denier)",
    "2x30tex",
);
const INDIRECT_TIMES: Reader = reader(
    "a count in that order (plies of Ne, Nm and the like come after a stroke)",
    "Ne 40/2",
);
const TICKET_PLIES: Reader = reader(
    "a ticket (its number is of the finished thread, plies and all)",
    "metric ticket 120",
);
const PLIES_FIRST: Reader = reader(
    "a count in that order (the plies come after the stroke)",
    "Nm 50/2",
);
const PLIES: Reader = reader("a count with plies from 1 to 99", "2x150den or Ne 40/2");

const fn reader(expected: &'static str, example: &'static str) -> Reader {
    Reader {
        expected,
        example,
        unit: "tex",
        limit: LIMIT,
    }
}

/// The number of a count with its plies.
struct Typed {
    count: Fraction,
    /// Typed in front, `2x150`.
    times: Option<i64>,
    /// Typed behind a stroke, `50/2`.
    stroke: Option<(i64, i64)>,
}

impl FromStr for Tex {
    type Err = QuantityError;

    /// Reads `30tex`, `tex 30`, `300dtex`, `2x150den`, `Nm 50/2`, `Ne 40/2`, `metric ticket 120`, `cotton ticket 40`,
    /// `linen lea 25`, `worsted 32/2`, `woollen run 6`; exact, but no finer than a thousandth of a tex.
    ///
    /// `50/2` is two plies of 50: indirect counts divide by the plies. Direct systems multiply, so `30/2 tex` could
    /// mean either and is refused for `2x30tex`. A ticket is of the finished thread; a bare one says metric or cotton.
    fn from_str(text: &str) -> Result<Self, QuantityError> {
        let plain = number::plain(text);
        let (before, rest) = number::leading(&plain, |c| c.is_alphabetic() || c == ' ');
        let (typed, after) = typed(rest, text)?;
        let system = system(before.trim(), after.trim(), text)?;
        let (top, bottom, indirect) = system.factor();
        match (typed.times, typed.stroke) {
            (Some(_), Some(_)) => return Err(COUNT.unreadable(text)),
            (Some(_), None) if indirect => return Err(INDIRECT_TIMES.unreadable(text)),
            (_, Some(_)) if !indirect => return Err(DIRECT_STROKE.unreadable(text)),
            (_, Some(_)) if system.is_ticket() => return Err(TICKET_PLIES.unreadable(text)),
            (_, Some((count, plies))) if count < plies => return Err(PLIES_FIRST.unreadable(text)),
            (_, Some((_, plies))) | (Some(plies), _) if !(1..=PLIES_MAX).contains(&plies) => {
                return Err(PLIES.unreadable(text));
            }
            _ => {}
        }
        let count = match (indirect, typed.times) {
            (true, _) => typed.count.inverse(),
            (false, plies) => typed.count.times(i128::from(plies.unwrap_or(1)), 1),
        };
        // Only zero has no inverse.
        let count = count.ok_or_else(|| QuantityError::NotPositive {
            text: text.to_owned(),
        })?;
        let tex = count.times(top, bottom);
        match tex.and_then(Self::exact) {
            Some(tex) => Ok(tex),
            None if tex.is_some_and(Self::is_too_fine) => Err(QuantityError::NotPositive {
                text: text.to_owned(),
            }),
            None => Err(COUNT.too_large(text)),
        }
    }
}

/// Reads the number with its plies, and gives the rest.
fn typed<'a>(rest: &'a str, text: &str) -> Result<(Typed, &'a str), QuantityError> {
    let take = |rest: &'a str| number::take(rest).map_err(|fault| COUNT.fault(fault, text));
    let (first, after) = take(rest)?;
    let behind = after
        .trim_start()
        .strip_prefix(['x', 'X', '×'])
        .map(str::trim_start);
    let (number, times, own, after) = match behind
        .filter(|behind| behind.starts_with(|c: char| c.is_ascii_digit() || c == '.'))
    {
        Some(own) => {
            let plies = Some(first.value)
                .filter(|value| value.is_whole())
                .and_then(Fraction::floor);
            let (number, after) = take(own)?;
            (
                number,
                Some(plies.ok_or_else(|| PLIES.unreadable(text))?),
                own,
                after,
            )
        }
        None => (first, None, rest, after),
    };
    let taken = own
        .get(..own.len().saturating_sub(after.len()))
        .unwrap_or_default();
    let stroke = taken
        .split_once('/')
        .map(|(count, plies)| (count.trim().parse(), plies.trim().parse()));
    let stroke = match stroke {
        Some((Ok(count), Ok(plies))) => Some((count, plies)),
        // Half numbers, as in `40 1/2`, are no plies.
        _ => None,
    };
    Ok((
        Typed {
            count: number.value,
            times,
            stroke,
        },
        after,
    ))
}

/// The system that is named before or behind the number.
fn system(before: &str, after: &str, text: &str) -> Result<YarnCount, QuantityError> {
    let words = format!("{before} {after}")
        .to_lowercase()
        .replace("tkt", "ticket");
    if words.contains("metric") && words.contains("cotton") {
        return Err(BOTH_TICKETS.unreadable(text));
    }
    match (before, after) {
        ("", "") => Err(COUNT.missing_unit(text)),
        _ if words.trim() == "ticket" => Err(BARE_TICKET.unreadable(text)),
        (name, "") | ("", name) => YarnCount::named(name).ok_or_else(|| COUNT.unreadable(text)),
        _ => Err(COUNT.unreadable(text)),
    }
}

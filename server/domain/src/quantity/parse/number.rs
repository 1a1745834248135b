//! Numbers as people type them: `2.5`, `2,5`, `1 000`, `2 3/4`, `2-3/4`, `2½`, `.5`.

use crate::quantity::fraction::Fraction;

/// Digits read on each side of the decimal sign; more is refused rather than cut.
const DIGITS: usize = 15;

/// Why the text in front is not a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Fault {
    NotANumber,
    Negative,
    /// `1,234`: the comma may group thousands or mark decimals.
    Ambiguous,
    TooLong,
}

/// A number read from text: a decimal with its scale, or a fraction.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Number {
    pub(crate) value: Fraction,
    /// The typed digits and how many stood after the decimal sign; none for `2 3/4`.
    pub(crate) decimal: Option<(i128, u32)>,
}

/// One spelling for the signs that mean the same: spaces, minus, fraction slash, `½` as ` 1/2 `.
pub(crate) fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.trim().chars() {
        match c {
            '\u{2212}' => out.push('-'),
            '\u{2044}' => out.push('/'),
            '½' => out.push_str(" 1/2 "),
            '⅓' => out.push_str(" 1/3 "),
            '⅔' => out.push_str(" 2/3 "),
            '¼' => out.push_str(" 1/4 "),
            '¾' => out.push_str(" 3/4 "),
            '⅕' => out.push_str(" 1/5 "),
            '⅖' => out.push_str(" 2/5 "),
            '⅗' => out.push_str(" 3/5 "),
            '⅘' => out.push_str(" 4/5 "),
            '⅙' => out.push_str(" 1/6 "),
            '⅚' => out.push_str(" 5/6 "),
            '⅛' => out.push_str(" 1/8 "),
            '⅜' => out.push_str(" 3/8 "),
            '⅝' => out.push_str(" 5/8 "),
            '⅞' => out.push_str(" 7/8 "),
            c if c.is_whitespace() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

/// Splits after the leading characters that pass.
pub(crate) fn leading(text: &str, pass: impl Fn(char) -> bool) -> (&str, &str) {
    text.split_at(text.find(|c| !pass(c)).unwrap_or(text.len()))
}

fn digits(text: &str) -> (&str, &str) {
    leading(text, |c| c.is_ascii_digit())
}

/// Reads the number at the start of `text` (already [`plain`]) and gives the rest.
pub(crate) fn take(text: &str) -> Result<(Number, &str), Fault> {
    let text = text.trim_start();
    if text.starts_with('-') {
        return Err(Fault::Negative);
    }
    let (run, rest) = leading(text, |c| c.is_ascii_digit() || c == '.' || c == ',');
    if run.is_empty() {
        return Err(Fault::NotANumber);
    }
    if run.bytes().all(|b| b.is_ascii_digit()) {
        if let Some(found) = fraction(run, rest)? {
            return Ok(found);
        }
        let (whole, rest) = grouped(run, rest);
        return Ok((decimal(&whole, "")?, rest));
    }
    let (whole, part) = separated(run)?;
    let number = decimal(&whole, part)?;
    // "2.5 1/2" is no number.
    let (next, after) = digits(rest.trim_start());
    if over(rest).is_some() || (!next.is_empty() && after.starts_with('/')) {
        return Err(Fault::NotANumber);
    }
    Ok((number, rest))
}

/// What follows a fraction stroke; the stroke of `24/h` is none.
fn over(rest: &str) -> Option<&str> {
    rest.strip_prefix('/')
        .filter(|after| after.starts_with(|c: char| c.is_ascii_digit()))
}

/// `3/4`, `2 3/4` or `2-3/4`, when that is what follows.
fn fraction<'a>(first: &str, rest: &'a str) -> Result<Option<(Number, &'a str)>, Fault> {
    let (whole, top, rest) = if let Some(after) = over(rest) {
        ("0", first, after)
    } else {
        let (top, after) = digits(rest.trim_start_matches(' ').trim_start_matches('-'));
        match after.strip_prefix('/') {
            Some(after) if !top.is_empty() && rest.starts_with([' ', '-']) => (first, top, after),
            _ => return Ok(None),
        }
    };
    let (bottom, rest) = digits(rest);
    let (whole, top, bottom) = (integer(whole)?, integer(top)?, integer(bottom)?);
    let value = Fraction::new(top, bottom).and_then(|f| f.plus(Fraction::new(whole, 1)?));
    Ok(Some((
        Number {
            value: value.ok_or(Fault::NotANumber)?,
            decimal: None,
        },
        rest,
    )))
}

/// Joins thousands set apart by single spaces: `10 000`.
fn grouped<'a>(first: &str, mut rest: &'a str) -> (String, &'a str) {
    let mut whole = first.to_owned();
    while whole.len() <= DIGITS && first.len() <= 3 && !first.starts_with('0') {
        let Some((group, after)) = rest.strip_prefix(' ').map(digits) else {
            break;
        };
        if group.len() != 3 || after.starts_with(['/', '.', ',']) {
            break;
        }
        whole.push_str(group);
        rest = after;
    }
    (whole, rest)
}

/// Tells the decimal sign from the signs that group thousands.
fn separated(run: &str) -> Result<(String, &str), Fault> {
    let points = run.matches('.').count();
    let commas = run.matches(',').count();
    let (thousands, sign) = match (points, commas) {
        (1, 0) => (None, Some('.')),
        (0, 1) => (None, Some(',')),
        (_, 0) => (Some('.'), None),
        (0, _) => (Some(','), None),
        // The later sign marks the decimals; the earlier one groups.
        (1, _) if run.rfind('.') > run.rfind(',') => (Some(','), Some('.')),
        (_, 1) => (Some('.'), Some(',')),
        _ => return Err(Fault::NotANumber),
    };
    let (whole, part) = match sign {
        Some(sign) => run.split_once(sign).ok_or(Fault::NotANumber)?,
        None => (run, ""),
    };
    if sign.is_some() && (part.is_empty() || !part.bytes().all(|b| b.is_ascii_digit())) {
        return Err(Fault::NotANumber);
    }
    if let Some(thousands) = thousands {
        let sound = whole.split(thousands).enumerate().all(|(i, group)| {
            let length = if i == 0 {
                (1..=3).contains(&group.len())
            } else {
                group.len() == 3
            };
            length && group.bytes().all(|b| b.is_ascii_digit())
        });
        return if sound {
            Ok((whole.replace(thousands, ""), part))
        } else {
            Err(Fault::NotANumber)
        };
    }
    if sign == Some(',')
        && part.len() == 3
        && (1..=3).contains(&whole.len())
        && !whole.starts_with('0')
    {
        return Err(Fault::Ambiguous);
    }
    Ok((whole.to_owned(), part))
}

fn integer(digits: &str) -> Result<i128, Fault> {
    if digits.is_empty() {
        return Err(Fault::NotANumber);
    }
    if digits.len() > DIGITS {
        return Err(Fault::TooLong);
    }
    digits.parse().map_err(|_| Fault::NotANumber)
}

fn decimal(whole: &str, part: &str) -> Result<Number, Fault> {
    if whole.len() > DIGITS || part.len() > DIGITS {
        return Err(Fault::TooLong);
    }
    let mantissa: i128 = format!("0{whole}{part}")
        .parse()
        .map_err(|_| Fault::NotANumber)?;
    let scale = u32::try_from(part.len()).map_err(|_| Fault::TooLong)?;
    let value = Fraction::new(mantissa, 10_i128.checked_pow(scale).ok_or(Fault::TooLong)?);
    Ok(Number {
        value: value.ok_or(Fault::NotANumber)?,
        decimal: Some((mantissa, scale)),
    })
}

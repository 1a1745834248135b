//! What may follow in a list of pairs, `role=shell,kind=cl`: a key that is not there yet, or a word of a closed list.

use super::{Source, closed};
use clap::{Arg, ArgAction};

/// The pairs so far with what may stand at their end. A shell that closes the quote behind the only word that fits is offered
/// two: `closes`.
pub(super) fn offered(flags: &[Arg], typed: &str, closes: bool) -> Vec<String> {
    let (before, last) = match typed.rfind(',') {
        Some(comma) => typed.split_at(comma.saturating_add(1)),
        None => ("", typed),
    };
    let ends: Vec<String> = match last.split_once('=') {
        Some((key, word)) => {
            let flag = flags
                .iter()
                .find(|flag| flag.get_long() == Some(key.trim()));
            let words = flag.map(words).unwrap_or_default().into_iter();
            let words = words.filter(|known| known.starts_with(word));
            words.map(|word| format!("{key}={word}")).collect()
        }
        None => {
            let given: Vec<&str> = before
                .split(',')
                .filter_map(|pair| Some(pair.split_once('=')?.0.trim()))
                .collect();
            let keys = flags.iter().filter_map(Arg::get_long);
            let keys = keys.filter(|key| key.starts_with(last) && !given.contains(key));
            let mut keys: Vec<String> = keys.map(|key| format!("{key}=")).collect();
            if let ([only], true) = (keys.as_slice(), closes) {
                keys.push(format!("{only}…"));
            }
            keys
        }
    };
    ends.iter().map(|end| format!("{before}{end}")).collect()
}

/// The words that a key takes, where they are few and known.
fn words(flag: &Arg) -> Vec<String> {
    let yes_or_no = || ["yes", "no"].map(str::to_owned).to_vec();
    match (flag.get_action(), closed(flag)) {
        (ArgAction::SetTrue, _) => yes_or_no(),
        (_, Some(Source::Words(words))) => words,
        _ => match flag.get_possible_values() {
            known if known.iter().any(|value| value.matches("true", false)) => yes_or_no(),
            known => known
                .iter()
                .map(|value| value.get_name().to_owned())
                .collect(),
        },
    }
}

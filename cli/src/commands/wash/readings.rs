//! Readings of a wash test: `350mm,350mm,350mm=334mm,335mm,333mm`.

use ellwand_contract::Typed;
use ellwand_domain::quantity::Micrometres;

/// Distances between the marks before, and after each cycle.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Readings {
    pub before: Vec<Typed<Micrometres>>,
    pub after: Vec<Vec<Typed<Micrometres>>>,
}

/// Reads `before=after` or, cycle by cycle, `before=after first=after second`; marks are set apart by commas.
///
/// # Errors
/// No reading after, a mark without a unit, another number of marks after than before.
pub(super) fn parse(text: &str) -> Result<Readings, String> {
    let example = "for example 350mm,350mm,350mm=334mm,335mm,333mm";
    let mut sides = text.split('=').map(marks);
    let before = sides.next().unwrap_or_else(|| Ok(Vec::new()))?;
    let after = sides.collect::<Result<Vec<_>, _>>()?;
    if after.is_empty() {
        return Err(format!(
            "\"{text}\" has no readings after the wash, {example}"
        ));
    }
    if let Some(cycle) = after.iter().find(|cycle| cycle.len() != before.len()) {
        let (before, after) = (before.len(), cycle.len());
        return Err(format!(
            "\"{text}\" has {before} marks before and {after} after, {example}"
        ));
    }
    Ok(Readings { before, after })
}

fn marks(text: &str) -> Result<Vec<Typed<Micrometres>>, String> {
    text.split(',')
        .map(|mark| {
            mark.trim()
                .parse()
                .map_err(|error: ellwand_domain::quantity::QuantityError| error.to_string())
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_marks_and_two_cycles_are_read() {
        let read =
            parse("350mm,350mm,350mm = 334mm,335mm,333mm = 332mm, 333mm, 331mm").expect("readings");
        assert_eq!((read.before.len(), read.after.len()), (3, 2));
        assert_eq!(
            (read.after[0][1].text(), read.after[1][2].value().get()),
            ("335mm", 331_000)
        );
    }

    #[test]
    fn what_is_missing_is_said() {
        assert!(
            parse("350mm")
                .expect_err("no after")
                .starts_with("\"350mm\" has no readings after")
        );
        assert!(
            parse("350mm,350mm=334mm")
                .expect_err("counts")
                .contains("2 marks before and 1 after")
        );
        assert!(
            parse("350=334")
                .expect_err("units")
                .starts_with("\"350\" needs a unit")
        );
        assert!(parse("=334mm").is_err());
    }
}

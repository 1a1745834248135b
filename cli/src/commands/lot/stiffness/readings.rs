//! Readings along one grain: `62mm:60mm,61mm:61mm`.

use ellwand_domain::stiffness::Reading;

/// Strips, each with its readings as typed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Readings(pub(super) Vec<Vec<String>>);

/// Reads strips set apart by commas, and the readings of one strip by colons; the text travels.
///
/// # Errors
/// A reading that is neither a length nor a rigidity, with an example.
pub(super) fn parse(text: &str) -> Result<Readings, String> {
    let reading = |text: &str| {
        text.parse::<Reading>()
            .map(|_| text.trim().to_owned())
            .map_err(|error| error.to_string())
    };
    let strip = |text: &str| text.split(':').map(reading).collect();
    text.split(',')
        .map(strip)
        .collect::<Result<_, _>>()
        .map(Readings)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn strips_and_their_sides_are_read() {
        let read = parse("62mm:60mm, 61 mm : 2 3/8in").expect("readings");
        assert_eq!(read.0, [["62mm", "60mm"], ["61 mm", "2 3/8in"]]);
        assert_eq!(parse("11.4uNm").expect("a rigidity").0, [["11.4uNm"]]);
    }

    #[test]
    fn what_cannot_be_read_is_said() {
        assert!(
            parse("62")
                .expect_err("units")
                .starts_with("\"62\" needs a unit")
        );
        assert!(parse("62mm,,60mm").is_err());
        assert!(
            parse("-62mm")
                .expect_err("negative")
                .ends_with("must not be negative")
        );
        assert!(
            parse("0mm")
                .expect_err("nothing")
                .ends_with("must be more than zero")
        );
    }
}

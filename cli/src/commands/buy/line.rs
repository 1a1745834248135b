//! A line of a purchase as `key=value` pairs, from a flag or a row of a CSV file.

use crate::pairs::{Pairs, PairsError, keys};
use ellwand_contract::purchases::LineInput;
use ellwand_domain::quantity::Milligrams;

/// Reads the value of `--line`.
///
/// # Errors
/// Unknown, missing or unreadable keys.
pub(super) fn parse(text: &str) -> Result<LineInput, PairsError> {
    from_pairs(Pairs::parse(text, &keys::<LineInput>()))
}

/// A line from its pairs.
///
/// # Errors
/// A missing material or price, or a value that cannot be read.
pub(super) fn from_pairs(pairs: Pairs) -> Result<LineInput, PairsError> {
    let mut line: LineInput = pairs.read()?;
    let material = &mut line.material;
    let mass = material.sheet.mass.as_ref();
    if let Some(mass) = mass.filter(|mass| mass.parse::<Milligrams>().is_ok()) {
        return Err(PairsError::new(format!(
            "mass: \"{mass}\" is not a mass per area, for example 270gsm; the mass of the whole line is line-mass={mass}"
        )));
    }
    material.code = material.name.as_ref().and_then(|name| name.parse().ok());
    material.name = material.name.take().filter(|_| material.code.is_none());
    Ok(line)
}

#[cfg(test)]
mod tests {
    use super::*;
    use ellwand_domain::setting::Kind;

    #[test]
    fn a_line_is_read_whole() {
        let text = "material=navy wool,kind=cloth,paid=4.00m,price=88.00,full-width=150cm,selvedges=1cm,mass=270gsm,\
                    fibres=linen 55% + cotton 45%,shrinkage=5%/2%,place=A2,pieces=2.10m + 1.90m";
        let line = parse(text).expect("a whole line");
        assert_eq!(
            (line.material.name.as_deref(), line.material.kind),
            (Some("navy wool"), Some(Kind::Cloth))
        );
        assert_eq!(
            (line.paid.as_deref(), line.price.as_deref()),
            (Some("4.00m"), Some("88.00"))
        );
        assert_eq!(line.pieces, ["2.10m", "1.90m"]);
        let sheet = line.material.sheet;
        assert_eq!(
            (sheet.full_width.as_deref(), sheet.mass.as_deref()),
            (Some("150cm"), Some("270gsm"))
        );
        assert_eq!(sheet.fibres[1].share, "45%");
        assert_eq!(
            sheet
                .shrinkage
                .and_then(|shrinkage| shrinkage.width)
                .as_deref(),
            Some("2%")
        );
    }

    #[test]
    fn a_code_names_a_known_material() {
        let line = parse("material=m3,paid=1m,price=0").expect("a line");
        assert_eq!(
            (
                line.material.code.map(|code| code.to_string()),
                line.material.name
            ),
            (Some("M3".to_owned()), None)
        );
    }

    #[test]
    fn a_missing_price_and_a_mass_of_the_whole_are_refused() {
        let message = |text: &str| parse(text).expect_err("refused").to_string();
        assert_eq!(
            message("material=wool,paid=1m"),
            "price is missing, for example price=88.00, price=0 for a gift or price=unknown"
        );
        assert!(message("material=wool,price=1,mass=1.2kg").contains("line-mass=1.2kg"));
        assert!(
            message("material=wool,price=1,kind=yarn")
                .starts_with("kind: \"yarn\" is not a kind of material")
        );
    }
}

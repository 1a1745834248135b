//! Reads `--with`: a cloth to choose from.

use crate::pairs::{Pairs, PairsError, keys};
use ellwand_contract::{
    Typed,
    options::OptionCloth,
    sheets::{self, ShrinkageInput},
};
use ellwand_domain::{code::PieceCode, quantity::Micrometres};
use rust_decimal::Decimal;

/// Cloth that is not bought yet.
#[derive(Debug, clap::Args)]
struct NewCloth {
    #[arg(long, value_name = "64.00/m")]
    price: String,
    #[arg(long, value_name = "150cm")]
    width: Typed<Micrometres>,
    #[arg(long, value_parser = sheets::shrinkage, allow_hyphen_values = true)]
    shrinkage: Option<ShrinkageInput>,
    #[arg(long)]
    called: Option<String>,
}

/// Reads `shell=L7`, `shell=L7.2`, `shell=navy wool`, `shell=64.00/m,width=150cm,shrinkage=3%/1%`.
///
/// # Errors
/// No role or cloth, or values of cloth that is not bought yet that cannot be read.
pub(super) fn parse(text: &str) -> Result<OptionCloth, PairsError> {
    let (role, cloth) = text
        .split_once('=')
        .map(|(role, cloth)| (role.trim(), cloth.trim()))
        .filter(|(role, cloth)| !role.is_empty() && !cloth.is_empty())
        .ok_or_else(|| {
            PairsError::new(
                "which cloth for which need? write shell=L7, or shell=64.00/m,width=150cm",
            )
        })?;
    let named = OptionCloth {
        role: role.to_owned(),
        ..OptionCloth::default()
    };
    if let Ok(lot) = cloth.parse() {
        return Ok(OptionCloth {
            lot: Some(lot),
            ..named
        });
    }
    if let Ok(PieceCode { lot, .. }) = cloth.parse() {
        return Ok(OptionCloth {
            lot: Some(lot),
            ..named
        });
    }
    let first = cloth.split(',').next().unwrap_or_default();
    if first.starts_with(|c: char| c.is_ascii_digit()) && first.parse::<Decimal>().is_ok() {
        return Err(PairsError::new(format!(
            "is {first} a price? write it with its unit, and the cloth's width: {role}={first}/m,width=150cm"
        )));
    }
    if !cloth.contains('/') {
        return Ok(OptionCloth {
            material: Some(cloth.to_owned()),
            ..named
        });
    }
    let new: NewCloth = Pairs::parse(&format!("price={cloth}"), &keys::<NewCloth>()).read()?;
    Ok(OptionCloth {
        price: Some(new.price),
        width: Some(new.width),
        shrinkage: new.shrinkage,
        called: new.called,
        ..named
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cloth_is_a_lot_a_material_or_a_price() {
        let read = |text: &str| parse(text).expect("a cloth");
        assert_eq!(read("shell=L7").lot, read("shell = L7.2").lot);
        assert_eq!(
            read("shell=navy wool").material.as_deref(),
            Some("navy wool")
        );
        let new = read("shell=64.00/m,width=150cm,shrinkage=3%/1%,called=Tweed, grey");
        assert_eq!(new.price.as_deref(), Some("64.00/m"));
        assert_eq!(new.called.as_deref(), Some("Tweed, grey"));
        assert_eq!(
            new.shrinkage
                .and_then(|shrinkage| shrinkage.width)
                .as_deref(),
            Some("1%")
        );
        for (text, slip) in [
            ("L7", "which cloth for which need?"),
            ("shell=", "which cloth for which need?"),
            ("shell=64.00/m", "width is missing, for example width=150cm"),
            ("shell=64.00,width=150cm", "shell=64.00/m,width=150cm"),
            ("shell=64.00/m,widht=150cm", "did you mean width?"),
        ] {
            let error = parse(text).expect_err("a slip").to_string();
            assert!(error.contains(slip), "{text}: {error}");
        }
    }
}

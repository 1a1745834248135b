//! Reads parts of a sheet that stand in one text.

use super::{FibreInput, ShrinkageInput};

/// Reads `linen 55% + cotton 45%`; one fibre without a share is all of it.
///
/// # Errors
/// A part without a share.
pub fn fibres(text: &str) -> Result<Vec<FibreInput>, String> {
    let parts: Vec<&str> = text
        .split(['+', '/'])
        .map(str::trim)
        .filter(|part| !part.is_empty())
        .collect();
    let one = parts.len() == 1;
    parts
        .into_iter()
        .map(|part| {
            let digit = part.find(|c: char| c.is_ascii_digit());
            let (fibre, share) = match digit {
                // `55% linen` and `linen 55%` are the same.
                Some(0) => match part.split_once('%') {
                    Some((share, fibre)) => (fibre.trim(), format!("{}%", share.trim())),
                    None => return Err(no_share(part)),
                },
                Some(place) => (part[..place].trim(), part[place..].trim().to_owned()),
                None if one => (part, "100%".to_owned()),
                None => return Err(no_share(part)),
            };
            if fibre.is_empty() || !share.ends_with('%') {
                return Err(no_share(part));
            }
            Ok(FibreInput {
                fibre: fibre.to_owned(),
                share,
            })
        })
        .collect()
}

fn no_share(part: &str) -> String {
    format!("\"{part}\" is not a fibre with its share, for example linen 55% + cotton 45%")
}

/// Reads `5%/2%`: lengthwise and crosswise, then the preparation (default `washed`): `5%/2% steamed`.
///
/// # Errors
/// More than two directions, or no share at all.
pub fn shrinkage(text: &str) -> Result<ShrinkageInput, String> {
    let wrong = || format!("\"{text}\" is not a shrinkage, for example 5%/2% or 5%/2% steamed");
    let end = text
        .rfind('%')
        .map(|place| place.saturating_add(1))
        .ok_or_else(wrong)?;
    let (shares, preparation) = text.split_at(end);
    let mut parts = shares.split('/').map(|part| part.trim().to_owned());
    let length = parts
        .next()
        .filter(|part| !part.is_empty())
        .ok_or_else(wrong)?;
    let width = parts.next().filter(|part| !part.is_empty());
    if parts.next().is_some() {
        return Err(wrong());
    }
    let preparation =
        Some(preparation.trim().to_owned()).filter(|preparation| !preparation.is_empty());
    Ok(ShrinkageInput {
        length,
        width,
        preparation,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shares(text: &str) -> Result<Vec<(String, String)>, String> {
        fibres(text).map(|list| list.into_iter().map(|f| (f.fibre, f.share)).collect())
    }

    #[test]
    fn fibres_are_read_with_the_share_before_or_behind() {
        let expected = vec![
            ("linen".to_owned(), "55%".to_owned()),
            ("cotton".to_owned(), "45%".to_owned()),
        ];
        assert_eq!(shares("linen 55% + cotton 45%"), Ok(expected.clone()));
        assert_eq!(
            shares("55 % linen/45% cotton").map(|list| list[1].clone()),
            Ok(expected[1].clone())
        );
        assert_eq!(
            shares("wool"),
            Ok(vec![("wool".to_owned(), "100%".to_owned())])
        );
    }

    #[test]
    fn a_fibre_without_its_share_is_refused() {
        assert!(
            shares("linen + cotton 45%")
                .expect_err("no share")
                .starts_with("\"linen\" is not a fibre")
        );
        assert!(shares("linen 55 + cotton 45").is_err());
    }

    #[test]
    fn shrinkage_is_read_lengthwise_first() {
        let read = shrinkage("5%/2% steamed").expect("both ways");
        assert_eq!(
            (
                read.length.as_str(),
                read.width.as_deref(),
                read.preparation.as_deref()
            ),
            ("5%", Some("2%"), Some("steamed"))
        );
        let read = shrinkage("4.5 %").expect("lengthwise");
        assert_eq!(
            (read.length.as_str(), read.width, read.preparation),
            ("4.5 %", None, None)
        );
        assert!(shrinkage("5").is_err());
        assert!(shrinkage("1%/2%/3%").is_err());
    }
}

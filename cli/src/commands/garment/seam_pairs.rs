//! Reads `--seam`.

use super::needs::checked;
use crate::pairs::{Pairs, PairsError};
use ellwand_contract::seams::SeamInput;
use ellwand_domain::{
    quantity::{Count, Micrometres, PartsPerMillion},
    thread::{Density, Stitch},
};

/// Keys of `--seam`, in the order of the help.
pub const SEAM_KEYS: &[&str] = &[
    "name",
    "stitch",
    "length",
    "count",
    "per-cm",
    "step",
    "thickness",
    "width",
    "bite",
    "across",
    "knot",
    "shank",
    "stitches",
    "sample",
    "sample-needle",
    "sample-under",
    "each",
    "needle",
    "under",
    "needle-share",
    "detail",
];

/// What is wrong with an amount of a seam: its field and why.
pub type Fault = (&'static str, String);

/// Reads `name=side seam,length=62cm,count=2,stitch=301,per-cm=4,thickness=0.8mm`; the name must be there.
///
/// # Errors
/// An unknown key, a value that cannot be read, no name or stitch.
pub fn named(text: &str) -> Result<SeamInput, PairsError> {
    let seam = seam(text)?;
    if seam.name.is_empty() {
        return Err(PairsError::new(format!(
            "\"{text}\" has no name, for example name=side seam"
        )));
    }
    Ok(seam)
}

/// Reads a seam, with or without a name.
///
/// # Errors
/// As [`named`].
pub fn seam(text: &str) -> Result<SeamInput, PairsError> {
    let mut pairs = Pairs::parse(text, SEAM_KEYS)?;
    let count = |pairs: &mut Pairs, key| -> Result<Option<i64>, PairsError> {
        Ok(pairs.take_as::<Count>(key)?.map(Count::get))
    };
    let length = |pairs: &mut Pairs, key| checked::<Micrometres>(pairs, key);
    let seam = SeamInput {
        name: pairs.take("name").unwrap_or_default(),
        stitch: pairs.need("stitch", "301")?,
        length: length(&mut pairs, "length")?,
        count: count(&mut pairs, "count")?.unwrap_or(1),
        per_cm: pairs.take("per-cm"),
        step: length(&mut pairs, "step")?,
        thickness: length(&mut pairs, "thickness")?,
        width: length(&mut pairs, "width")?,
        bite: length(&mut pairs, "bite")?,
        across: length(&mut pairs, "across")?,
        knot: length(&mut pairs, "knot")?,
        shank: length(&mut pairs, "shank")?,
        stitches: count(&mut pairs, "stitches")?,
        sample: length(&mut pairs, "sample")?,
        sample_needle: length(&mut pairs, "sample-needle")?,
        sample_under: length(&mut pairs, "sample-under")?,
        each: length(&mut pairs, "each")?,
        needle: pairs.take("needle"),
        under: pairs.take("under"),
        needle_share: checked::<PartsPerMillion>(&mut pairs, "needle-share")?,
        detail: pairs.take("detail"),
    };
    match check(&seam) {
        Ok(()) => Ok(seam),
        Err((key, message)) => Err(PairsError::new(format!(
            "{}: {message}",
            key.replace('_', "-")
        ))),
    }
}

/// Reads every typed amount of a seam, so that a slip is found before anything is sent.
///
/// # Errors
/// The field and what is wrong with it.
pub fn check(seam: &SeamInput) -> Result<(), Fault> {
    Stitch::parse(&seam.stitch).map_err(|error| ("stitch", error.to_string()))?;
    if let Some(text) = &seam.per_cm {
        Density::parse_per_cm(text).map_err(|error| ("per_cm", error.to_string()))?;
    }
    for (key, text) in [
        ("length", &seam.length),
        ("step", &seam.step),
        ("thickness", &seam.thickness),
        ("width", &seam.width),
        ("bite", &seam.bite),
        ("across", &seam.across),
        ("knot", &seam.knot),
        ("shank", &seam.shank),
        ("sample", &seam.sample),
        ("sample_needle", &seam.sample_needle),
        ("sample_under", &seam.sample_under),
        ("each", &seam.each),
    ] {
        if let Some(text) = text {
            text.parse::<Micrometres>()
                .map_err(|error| (key, error.to_string()))?;
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    fn fault(text: &str) -> String {
        super::named(text).expect_err("a faulty seam").to_string()
    }

    #[test]
    fn a_seam_is_read_as_it_was_typed() {
        let seam = super::named(
            "name=side seam,length=62cm,count=2,stitch=301,per-cm=4.5,thickness=0.8mm,needle=thread,under=bobbin",
        )
        .expect("a seam");
        assert_eq!(
            (seam.name.as_str(), seam.stitch.as_str(), seam.count),
            ("side seam", "301", 2)
        );
        assert_eq!(
            (seam.per_cm.as_deref(), seam.thickness.as_deref()),
            (Some("4.5"), Some("0.8mm"))
        );
        assert_eq!(
            (seam.needle.as_deref(), seam.under.as_deref()),
            (Some("thread"), Some("bobbin"))
        );
        assert_eq!(super::seam("stitch=back").expect("a seam").count, 1);
    }

    #[test]
    fn a_seam_that_cannot_be_read_names_the_key() {
        assert!(fault("stitch=301").contains("has no name, for example name=side seam"));
        assert!(fault("name=hem").contains("has no stitch, for example stitch=301"));
        assert!(
            fault("name=hem,stitch=330")
                .starts_with("stitch: 330 is not a stitch type of ISO 4915")
        );
        assert!(
            fault("name=hem,stitch=301,thickness=1").starts_with("thickness: \"1\" needs a unit")
        );
        assert!(fault("name=hem,stitch=301,thickness=-1mm").contains("must not be negative"));
        assert!(
            fault("name=hem,stitch=301,per-cm=0")
                .starts_with("per-cm: \"0\" must be more than zero")
        );
        assert!(fault("name=hem,stitch=301,length=1m,looper=red").contains("is not a key here"));
    }
}

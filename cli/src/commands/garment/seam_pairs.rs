//! Reads `--seam`.

use crate::pairs::{PairsError, read};
use ellwand_contract::seams::SeamInput;

/// Reads `name=side seam,length=62cm,count=2,stitch=301,per-cm=4,thickness=0.8mm`; the name must be there.
///
/// # Errors
/// An unknown key, a value that cannot be read, no name or stitch.
pub fn named(text: &str) -> Result<SeamInput, PairsError> {
    let seam: SeamInput = read(text)?;
    if seam.name.is_empty() {
        return Err(PairsError::new(format!(
            "\"{text}\" has no name, for example name=side seam"
        )));
    }
    Ok(seam)
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
        assert_eq!(
            super::read::<super::SeamInput>("stitch=back")
                .expect("a seam")
                .count,
            1
        );
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

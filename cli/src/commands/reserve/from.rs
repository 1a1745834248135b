//! Reads `--from`: a piece, or a share of a unit from it.

use crate::command_error::CommandError;
use ellwand_contract::{Typed, garments::Pick};
use ellwand_domain::{
    code::PieceCode,
    quantity::{Count, Micrometres},
};

/// `L5.1`, `L5.1:4` or `L5.1:100m`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct From {
    piece: PieceCode,
    trims: Option<i64>,
    length: Option<Typed<Micrometres>>,
}

/// Reads a piece with how much of it.
///
/// # Errors
/// A message for what cannot be read.
pub fn parse(text: &str) -> Result<From, String> {
    let (piece, share) = match text.split_once(':') {
        None => (text, None),
        Some((piece, share)) => (piece, Some(share.trim())),
    };
    let (mut trims, mut length) = (None, None);
    if let Some(share) = share {
        match share.parse::<Count>() {
            Ok(count) => trims = Some(count.get()),
            Err(error) => {
                let read = share.parse::<Typed<Micrometres>>();
                length = Some(read.map_err(|_| {
                    format!("{error}; a share of a unit is for example {piece}:4 or {piece}:100m")
                })?);
            }
        }
    }
    let nothing = trims == Some(0)
        || length
            .as_ref()
            .is_some_and(|length| length.value().is_zero());
    if nothing {
        return Err(format!(
            "\"{text}\" takes nothing; write a share of a unit like {piece}:4 or {piece}:100m"
        ));
    }
    Ok(From {
        piece: piece.trim().parse().map_err(|error| format!("{error}"))?,
        trims,
        length,
    })
}

impl From {
    const fn is_share(&self) -> bool {
        self.trims.is_some() || self.length.is_some()
    }
}

/// What is requested besides the pieces.
pub struct NeedShare {
    pub need: String,
    pub count: Option<i64>,
    pub washed_length: Option<Typed<Micrometres>>,
}

/// A pick a piece.
///
/// # Errors
/// Exit 2 for a number of units beside parts of a set, or beside several pieces. Whether several pieces may serve the need
/// is for the book to decide.
pub fn picks(wanted: &NeedShare, from: &[From]) -> Result<Vec<Pick>, CommandError> {
    let parts = from.iter().any(From::is_share);
    let has_count = wanted.count.is_some() || wanted.washed_length.is_some();
    if parts && has_count {
        return Err(CommandError::usage_hint(
            "a share of a unit behind --from already says how much",
            "leave out --count and --washed-length",
        ));
    }
    if let Some(open) = from.iter().find(|from| parts && !from.is_share()) {
        return Err(CommandError::usage_hint(
            format!("how much comes from {} is not given", open.piece),
            format!(
                "add it behind each piece, for example --from {}:4",
                open.piece
            ),
        ));
    }
    if from.len() > 1 && has_count {
        return Err(CommandError::usage_hint(
            "--count and --washed-length go with one piece",
            "use one command for each piece",
        ));
    }
    let pick = |from: &From| Pick {
        need: wanted.need.clone(),
        piece: from.piece,
        units: wanted.count,
        washed_length: from.length.clone().or_else(|| wanted.washed_length.clone()),
        trims: from.trims,
    };
    Ok(from.iter().map(pick).collect())
}

#[cfg(test)]
mod tests {
    use super::{From, NeedShare, parse, picks};

    fn read(text: &str) -> From {
        parse(text).expect("a piece")
    }

    #[test]
    fn a_piece_may_say_how_many_trims_come_from_it() {
        assert_eq!((read("L5.1").trims, read("l5.1:4").trims), (None, Some(4)));
        let length = read("L5.1:1.9m").length.expect("a length");
        assert_eq!(length.value().get(), 1_900_000);
        for fault in ["5", "L5.1:", "L5.1:0", "L5.1:four", ":4"] {
            assert!(!parse(fault).expect_err(fault).is_empty());
        }
    }

    #[test]
    fn units_stand_beside_one_piece_alone() {
        let wanted = |count| NeedShare {
            need: "buttons".to_owned(),
            count,
            washed_length: None,
        };
        assert_eq!(
            picks(&wanted(Some(2)), &[read("L5.1")])
                .expect("a pick")
                .len(),
            1
        );
        assert_eq!(
            picks(&wanted(None), &[read("L5.1:4"), read("L5.2:3")])
                .expect("picks")
                .len(),
            2
        );
        assert!(picks(&wanted(Some(2)), &[read("L5.1:4")]).is_err());
        assert!(picks(&wanted(None), &[read("L5.1"), read("L5.2:3")]).is_err());
        // Reels that run at once are one unit each.
        assert_eq!(
            picks(&wanted(None), &[read("L2.1"), read("L2.2")])
                .expect("picks")
                .len(),
            2
        );
        assert!(picks(&wanted(Some(2)), &[read("L2.1"), read("L2.2")]).is_err());
    }
}

//! Reads `--from`: a piece, or so many trims of it for a set.

use crate::command_error::CommandError;
use ellwand_contract::{Typed, garments::Pick};
use ellwand_domain::{
    code::PieceCode,
    quantity::{Count, Micrometres},
};

/// `L5.1` or `L5.1:4`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct From {
    piece: PieceCode,
    trims: Option<i64>,
}

/// Reads a piece with how many trims of it.
///
/// # Errors
/// What cannot be read, in words.
pub fn parse(text: &str) -> Result<From, String> {
    let (piece, trims) = match text.split_once(':') {
        None => (text, None),
        Some((piece, trims)) => (piece, Some(trims)),
    };
    let trims = match trims.map(|trims| trims.trim().parse::<Count>()).transpose() {
        Ok(trims) => trims.map(Count::get),
        Err(error) => return Err(format!("{error}; a part of a set is for example L5.1:4")),
    };
    if trims == Some(0) {
        return Err(format!(
            "\"{text}\" takes nothing; a part of a set is for example L5.1:4"
        ));
    }
    Ok(From {
        piece: piece.trim().parse().map_err(|error| format!("{error}"))?,
        trims,
    })
}

/// What is asked beside the pieces.
pub struct Asked {
    pub need: String,
    pub count: Option<i64>,
    pub washed_length: Option<Typed<Micrometres>>,
}

/// A pick a piece.
///
/// # Errors
/// Exit 2 for a number of units beside parts of a set, or beside several pieces. Whether several pieces may serve the need
/// is for the book to say.
pub fn picks(asked: &Asked, from: &[From]) -> Result<Vec<Pick>, CommandError> {
    let parts = from.iter().any(|from| from.trims.is_some());
    if parts && (asked.count.is_some() || asked.washed_length.is_some()) {
        return Err(CommandError::usage(
            "a part of a set (--from L5.1:4) says how many already; leave --count and --washed-length out",
        ));
    }
    if parts && from.iter().any(|from| from.trims.is_none()) {
        return Err(CommandError::usage(
            "of several pieces say how many trims come from each, for example --from L5.1:4 --from L5.2:3",
        ));
    }
    if from.len() > 1 && (asked.count.is_some() || asked.washed_length.is_some()) {
        return Err(CommandError::usage(
            "--count and --washed-length stand beside one piece; say them in a command for each",
        ));
    }
    let pick = |from: &From| Pick {
        need: asked.need.clone(),
        piece: from.piece,
        units: asked.count,
        washed_length: asked.washed_length.clone(),
        trims: from.trims,
    };
    Ok(from.iter().map(pick).collect())
}

#[cfg(test)]
mod tests {
    use super::{Asked, From, parse, picks};

    fn read(text: &str) -> From {
        parse(text).expect("a piece")
    }

    #[test]
    fn a_piece_may_say_how_many_trims_come_from_it() {
        assert_eq!((read("L5.1").trims, read("l5.1:4").trims), (None, Some(4)));
        for fault in ["L5", "L5.1:", "L5.1:0", "L5.1:four", ":4"] {
            assert!(!parse(fault).expect_err(fault).is_empty());
        }
    }

    #[test]
    fn units_stand_beside_one_piece_alone() {
        let asked = |count| Asked {
            need: "buttons".to_owned(),
            count,
            washed_length: None,
        };
        assert_eq!(
            picks(&asked(Some(2)), &[read("L5.1")])
                .expect("a pick")
                .len(),
            1
        );
        assert_eq!(
            picks(&asked(None), &[read("L5.1:4"), read("L5.2:3")])
                .expect("picks")
                .len(),
            2
        );
        assert!(picks(&asked(Some(2)), &[read("L5.1:4")]).is_err());
        assert!(picks(&asked(None), &[read("L5.1"), read("L5.2:3")]).is_err());
        // Reels that run at once are one unit each.
        assert_eq!(
            picks(&asked(None), &[read("L2.1"), read("L2.2")])
                .expect("picks")
                .len(),
            2
        );
        assert!(picks(&asked(Some(2)), &[read("L2.1"), read("L2.2")]).is_err());
    }
}

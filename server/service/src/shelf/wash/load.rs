//! Several pieces that were washed or steamed together.

use crate::desk::{
    Desk,
    failure::{Failure, all_or_none, invalid},
    perform::Perform,
};
use ellwand_contract::wash::{FinishWash, FinishWashes, PiecesChanged, Washed};

impl Perform for FinishWashes {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<PiecesChanged, Failure> {
        if self.pieces.is_empty() {
            return Err(invalid("pieces", "no piece is named that was prepared"));
        }
        for (place, washed) in self.pieces.iter().enumerate() {
            let mut earlier = self.pieces.iter().take(place);
            if earlier.any(|other| other.piece == washed.piece) {
                let detail = format!("{} is given twice: what does it measure now?", washed.piece);
                return Err(invalid("pieces", detail).naming("piece", washed.piece));
            }
        }
        let washed = self
            .pieces
            .iter()
            .map(|washed| one(self, washed).perform(desk));
        Ok(PiecesChanged {
            pieces: all_or_none(washed)?,
        })
    }
}

/// The wash of one of them.
fn one(asked: &FinishWashes, washed: &Washed) -> FinishWash {
    FinishWash {
        id: asked.id,
        piece: washed.piece,
        preparation: asked.preparation,
        length: washed.length.clone(),
        width: washed.width.clone(),
        really: asked.really,
        date: asked.date,
    }
}

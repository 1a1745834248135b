//! What one unit of a need takes, which depends on how many garments are made alike.

use super::{
    ClothDemand, ClothLengths, Lengths, Parts, PartsError, PlannedNeed, Takes, WidthLength,
};
use crate::{
    ledger::Quantity,
    quantity::{Count, QuantityError},
    thread::{self, ReelError},
};

impl PlannedNeed {
    /// Units for so many garments: a length for each, one that is joined, or one for each reel.
    #[must_use]
    pub const fn units(&self, garments: i64) -> i64 {
        match self.reels() {
            Some(reels) => reels,
            None if self.cloth().one_length => 1,
            None => garments,
        }
    }

    /// What one unit asks of cloth: a garment's, or with `one_length` that of all; nothing of thread and trims.
    ///
    /// # Errors
    /// As [`Parts::new`]; beyond the longest length.
    pub fn demand(&self, garments: i64) -> Result<Option<ClothDemand>, PartsError> {
        let cloth = self.cloth();
        let together = if cloth.one_length { garments } else { 1 };
        let lengths = match &self.takes {
            Takes::Cloth { lengths, .. } => Lengths::ByWidth(lengths.times(together)?),
            Takes::Parts { parts, own, .. } => {
                let parts = parts.iter().map(|typed| typed.part.clone()).collect();
                let parts = Parts::new(parts, together)?;
                Lengths::Parts(match own {
                    None => parts,
                    Some((length, width)) => parts.with_own(WidthLength {
                        width: width.as_ref().map(|width| width.value),
                        length: length.value,
                    })?,
                })
            }
            _ => return Ok(None),
        };
        Ok(Some(ClothDemand {
            lengths,
            most: None,
            preparation: cloth.preparation,
        }))
    }

    /// What one garment takes of thread and trims, spares included; nothing of cloth.
    ///
    /// # Errors
    /// More spares than the book counts.
    pub fn of_one(&self) -> Result<Option<Quantity>, QuantityError> {
        Ok(match &self.takes {
            Takes::Thread { length, .. } | Takes::Measured { length, .. } => {
                Some(length.value.into())
            }
            Takes::Counted { count, spares, .. } => {
                let spares = spares.map_or(0, Count::get);
                Some(Count::new(count.get().saturating_add(spares))?.into())
            }
            Takes::Cloth { .. } | Takes::Parts { .. } => None,
        })
    }

    /// What one unit takes of thread and trims: a garment's, or what each reel gives for all, rounded up.
    ///
    /// # Errors
    /// As [`Self::of_one`] and [`thread::on_each_reel`]; beyond the longest length.
    pub fn per_unit(&self, garments: i64) -> Result<Option<Quantity>, ReelError> {
        match (&self.takes, self.reels()) {
            (Takes::Thread { length, .. }, Some(reels)) => {
                let each = thread::on_each_reel(length.value.times(garments)?, reels)?;
                Ok(Some(each.into()))
            }
            _ => Ok(self.of_one()?),
        }
    }
}

impl ClothLengths {
    fn times(&self, garments: i64) -> Result<Vec<WidthLength>, QuantityError> {
        let one = match self {
            Self::One { length, width } => vec![(width.as_ref(), length)],
            Self::ByWidth(rows) => rows.iter().map(|(w, length)| (Some(w), length)).collect(),
        };
        let all = one.into_iter().map(|(width, length)| {
            Ok(WidthLength {
                width: width.map(|width| width.value),
                length: length.value.times(garments)?,
            })
        });
        all.collect()
    }
}

//! Needs of thread that run from several reels at once: the length of the whole batch is shared over them, a unit a reel.

use super::NeedRecord;
use crate::{
    desk::{
        context::Context,
        failure::{Done, invalid},
    },
    shelf::shelved::Measure,
};
use ellwand_contract::garments::NeedInput;
use ellwand_domain::setting::Kind;

/// Most reels that a need takes at once, beyond any machine; that an overlock takes 3 to 5 is common practice.
const REELS_MAX: i64 = 100;

/// Refuses reels of what is on none, no reels and too many to be meant.
pub(super) fn check(input: &NeedInput, kind: Kind) -> Done<()> {
    let Some(reels) = input.reels else {
        return Ok(());
    };
    if kind != Kind::Thread {
        return Err(invalid(
            "reels",
            format!("reels are for thread, the need is {kind}"),
        ));
    }
    if !(1..=REELS_MAX).contains(&reels) {
        let detail = format!(
            "{reels} reels at once are not possible: choose 1 to {REELS_MAX}; an overlock takes 3 to 5"
        );
        return Err(invalid("reels", detail));
    }
    Ok(())
}

impl NeedRecord {
    /// `4 reels at once, 50.00 m of each for the batch`.
    pub(super) fn reels_condition(&self, context: &Context<'_>) -> Option<String> {
        let (reels, each) = self.plan.reels().zip(self.per_unit)?;
        let each = Measure::Thread.show_taken(context, each);
        Some(match reels {
            1 => format!("{each} of one reel"),
            reels => format!("{reels} reels at once, {each} of each in all"),
        })
    }

    /// `27.37 m × 3 ÷ 4 reels = 20.53 m of each`.
    pub(crate) fn reels_step(&self, context: &Context<'_>, garments: i64) -> Option<String> {
        let (reels, each) = self.plan.reels().zip(self.per_unit)?;
        let (one, each) = (
            Measure::Thread.show_taken(context, self.length_of_one()?),
            Measure::Thread.show_taken(context, each),
        );
        let all = if garments == 1 {
            one
        } else {
            format!("{one} × {garments}")
        };
        (reels > 1).then(|| format!("{all} ÷ {reels} reels at once = {each} of each"))
    }
}

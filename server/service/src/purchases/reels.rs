//! Thread that came on reels: how many, and how much is on each.

use super::{
    came::{Came, Coming, MOST_PIECES},
    line::refuse,
};
use crate::desk::failure::{Done, Failure, invalid};
use ellwand_contract::Problem;
use ellwand_domain::{
    purchase::{Paid, about},
    quantity::{Micrometres, Milligrams, parse::parse_length_down},
    setting::Kind,
    thread::{self, ReelError},
};

fn refuse_reels(error: ReelError) -> Failure {
    invalid("reels", error.to_string())
}

impl Coming<'_, '_> {
    /// How many reels came, where that is said: paid for by the reel, or beside what was paid for.
    pub(super) fn reels(&self) -> Done<Option<i64>> {
        let paid = match self.paid {
            Some(Paid::Count(count)) if self.kind == Kind::Thread => Some(count.get()),
            _ => None,
        };
        let Some(stated) = self.input.reels else {
            return Ok(paid);
        };
        if self.kind != Kind::Thread {
            return Err(invalid(
                "reels",
                format!(
                    "only thread comes on reels, not {}: leave reels out",
                    self.kind
                ),
            ));
        }
        if let Some(paid) = paid.filter(|paid| *paid != stated) {
            return Err(invalid(
                "reels",
                format!("{paid} reels were paid for, not {stated}: give the number once"),
            )
            .with("wanted", stated)
            .with("paid", paid));
        }
        Ok(Some(stated))
    }

    /// One piece a reel: of what was measured or paid for alike, else of the full length that the line says, else by what they
    /// weigh, else of the full length that the material's sheet remembers.
    pub(super) fn reel_by_reel(&self, reels: i64, notes: &mut Vec<String>) -> Done<Came> {
        if usize::try_from(reels).is_ok_and(|reels| reels > MOST_PIECES) {
            return Err(invalid(
                "reels",
                format!("a line brings {MOST_PIECES} pieces at most; split it"),
            )
            .with("wanted", reels)
            .with("most", MOST_PIECES));
        }
        let shared = |length: Micrometres, estimated| -> Done<Came> {
            let pieces = thread::over_reels(length, reels).map_err(refuse_reels)?;
            Ok(Came {
                pieces: pieces.into_iter().map(Into::into).collect(),
                estimated,
            })
        };
        if let Some(text) = &self.input.measured {
            let (text, _) = about(text);
            let length = parse_length_down(text).map_err(|error| refuse("measured", &error))?;
            return shared(length, false);
        }
        let full = |each: Micrometres| {
            shared(
                thread::on_all_reels(each, reels).map_err(refuse_reels)?,
                false,
            )
        };
        let known = self.sheet.reel_length_m.map(|length| length.0);
        let stated = known.filter(|_| self.input.material.sheet.reel_length.is_some());
        match (self.paid, stated, &self.input.mass) {
            (Some(Paid::Length(length)), stated, _) => {
                self.agree(length, stated, reels, notes)?;
                shared(length, false)
            }
            (Some(Paid::Mass(mass)), None, _) => shared(self.by_mass(mass, notes)?, true),
            (Some(Paid::Mass(mass)), Some(each), _) => {
                self.weighed_against(each, reels, mass, notes)?;
                full(each)
            }
            (_, Some(each), Some(text)) => {
                // Without a tare the empty reels may be all that is over.
                let net = self.net(text, reels, &mut Vec::new())?;
                self.weighed_against(each, reels, net, notes)?;
                full(each)
            }
            (_, Some(each), None) => full(each),
            (_, None, Some(text)) if known.is_none() || self.sheet.tex.is_some() => {
                let net = self.net(text, reels, notes)?;
                let length = self.by_mass(net, notes)?;
                if let Some(each) = known {
                    let units = self.context.units();
                    let each = each.show(units);
                    notes.push(format!(
                        "the mass of this line was used, not the {each} on a reel of the material's sheet"
                    ));
                }
                shared(length, true)
            }
            (paid, None, _) => match (known, paid) {
                (Some(each), _) => full(each),
                (None, Some(Paid::Count(count))) => Err(self.how_long(count)),
                (None, _) => Err(Problem::from(invalid(
                    "measured",
                    "the length on a reel is not known",
                ))
                .hint("add reel-length=1000m, or the mass of all with line-mass=1.2kg")
                .into()),
            },
        }
    }

    /// Refuses a length that was paid for and that the reels cannot hold by what the same line says of them; notes a small
    /// difference.
    fn agree(
        &self,
        paid: Micrometres,
        stated: Option<Micrometres>,
        reels: i64,
        notes: &mut Vec<String>,
    ) -> Done<()> {
        let Some(each) = stated else { return Ok(()) };
        let all = thread::on_all_reels(each, reels).map_err(refuse_reels)?;
        if all == paid {
            return Ok(());
        }
        let units = self.context.units();
        let (paid_um, held_um) = (paid.get(), all.get());
        let (each, held, paid_for) = (each.show(units), all.show(units), paid.show(units));
        if thread::far_apart(paid, all) {
            let detail =
                format!("{paid_for} were paid for, but {reels} reels of {each} hold {held}");
            return Err(Problem::from(invalid("reels", detail))
                .hint("correct reels=, reel-length= or paid=")
                .with("reels", reels)
                .with("paid_um", paid_um)
                .with("held_um", held_um)
                .into());
        }
        notes.push(format!(
            "{reels} reels of {each} would hold {held}: the {paid_for} paid for were shared over them"
        ));
        Ok(())
    }

    /// Notes both lengths where what a line says of its reels and what they weigh are far apart.
    fn weighed_against(
        &self,
        each: Micrometres,
        reels: i64,
        net: Milligrams,
        notes: &mut Vec<String>,
    ) -> Done<()> {
        let Some(tex) = self.sheet.count() else {
            return Ok(());
        };
        let stated = thread::on_all_reels(each, reels).map_err(refuse_reels)?;
        let weighed = thread::length_on_reel(net, tex).map_err(|error| refuse("mass", &error))?;
        let gross = self.sheet.tare_g.is_none() && !matches!(self.paid, Some(Paid::Mass(_)));
        if thread::far_apart(stated, weighed) && !(gross && weighed > stated) {
            let units = self.context.units();
            notes.push(format!(
                "{reels} × {} on a reel are {}, but {} of {tex} are {}: the length on a reel was taken; weigh or measure a reel",
                each.show(units),
                stated.show(units),
                net.show(units),
                weighed.show(units)
            ));
        }
        Ok(())
    }

    /// Mass of the thread alone, of what all reels weigh together.
    fn net(&self, text: &str, reels: i64, notes: &mut Vec<String>) -> Done<Milligrams> {
        let gross: Milligrams = text.parse().map_err(|error| refuse("mass", &error))?;
        let tare = match &self.sheet.tare_g {
            Some(grams) => Milligrams::from_decimal_g(grams)?,
            None => {
                notes.push(
                    "the mass of an empty reel is unknown: all of it was taken as thread"
                        .to_owned(),
                );
                Milligrams::ZERO
            }
        };
        let net = thread::net_of(gross, tare, reels)
            .map_err(|error| invalid("mass", error.to_string()))?;
        if tare != Milligrams::ZERO {
            let units = self.context.units();
            let (gross, tare, net) = (gross.show(units), tare.show(units), net.show(units));
            notes.push(format!(
                "{gross} less {reels} empty reels of {tare}: {net} of thread"
            ));
        }
        Ok(net)
    }
}

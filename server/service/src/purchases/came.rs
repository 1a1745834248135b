//! What a line brought, piece by piece: as listed, as measured, reel by reel, as paid for, or by mass.

use super::line::{refuse, there};
use crate::{
    desk::{
        context::Context,
        failure::{Done, Failure, invalid},
    },
    shelf::shelved::is_counted,
};
use ellwand_contract::{Problem, purchases::LineInput, sheets::Sheet};
use ellwand_domain::{
    cloth,
    ledger::Quantity,
    purchase::Paid,
    quantity::{Count, Micrometres, Milligrams},
    setting::Kind,
    thread,
};

/// Most pieces that one line brings.
pub(super) const MOST_PIECES: usize = 1_000;

/// The pieces of a line.
pub(super) struct Came {
    pub(super) pieces: Vec<Quantity>,
    /// True where the length was worked out from a mass.
    pub(super) estimated: bool,
}

/// A line of which the pieces are asked for.
pub(super) struct Coming<'a, 'b> {
    pub(super) context: &'a Context<'b>,
    pub(super) input: &'a LineInput,
    pub(super) kind: Kind,
    pub(super) sheet: &'a Sheet,
    pub(super) paid: Option<Paid>,
}

impl Coming<'_, '_> {
    /// What came; how a length was worked out from a mass is added to the notes.
    pub(super) fn pieces(&self, notes: &mut Vec<String>) -> Done<Came> {
        let counted = is_counted(self.kind, self.sheet);
        let stated = |pieces| {
            Ok(Came {
                pieces,
                estimated: false,
            })
        };
        let reels = self.reels()?;
        if self.input.pieces.len() > MOST_PIECES {
            return Err(invalid(
                "pieces",
                format!("a line brings {MOST_PIECES} pieces at most; split it"),
            )
            .with("wanted", self.input.pieces.len())
            .with("most", MOST_PIECES));
        }
        if !self.input.pieces.is_empty() {
            let listed = self.input.pieces.len();
            if let Some(reels) = reels.filter(|reels| usize::try_from(*reels) != Ok(listed)) {
                let detail = format!("{reels} reels came, but {listed} lengths are listed");
                return Err(Problem::from(invalid("pieces", detail))
                    .hint("list one length for each reel in pieces=, or leave it out")
                    .with("reels", reels)
                    .with("listed", listed)
                    .into());
            }
            let read =
                |(index, text): (usize, &String)| there(counted, &format!("pieces[{index}]"), text);
            return stated(
                self.input
                    .pieces
                    .iter()
                    .enumerate()
                    .map(read)
                    .collect::<Done<_>>()?,
            );
        }
        if let Some(reels) = reels {
            return self.reel_by_reel(reels, notes);
        }
        if let Some(text) = &self.input.measured {
            return stated(vec![there(counted, "measured", text)?]);
        }
        match self.paid {
            Some(Paid::Length(length)) => stated(vec![length.into()]),
            Some(Paid::Count(count)) if counted => stated(vec![count.into()]),
            Some(Paid::Count(count)) => Err(self.how_long(count)),
            Some(Paid::Mass(mass)) if !counted => Ok(Came {
                pieces: vec![self.by_mass(mass, notes)?.into()],
                estimated: true,
            }),
            Some(Paid::Mass(_)) => Err(invalid(
                "measured",
                "the line was paid for by mass: count what came and give that too",
            )),
            None => Err(Problem::from(invalid(
                "paid",
                "the line gives neither what was paid for nor what came",
            ))
            .hint("add paid=3m, or measured=3m for a lump sum or a gift")
            .into()),
        }
    }

    pub(super) fn how_long(&self, count: Count) -> Failure {
        let detail = format!("{count} were paid for, but the length of each is not given");
        let hint = match self.kind {
            Kind::Thread => {
                "give the length on a reel, or the yarn count and the mass of all of them"
            }
            _ => "give the length, or the lengths one by one",
        };
        Problem::from(invalid("measured", detail))
            .hint(hint)
            .with("count", count.get())
            .into()
    }

    /// Length of a net mass; how it was worked out is added to the notes.
    pub(super) fn by_mass(&self, net: Milligrams, notes: &mut Vec<String>) -> Done<Micrometres> {
        let (units, sheet) = (self.context.units(), self.sheet);
        let missing = |what: &str, field: &str| -> Failure {
            let detail =
                format!("the length is worked out from the mass, and the {what} is not known");
            Problem::from(invalid(field, detail))
                .hint("add it to the line, or the length: measured=3m")
                .into()
        };
        let (length, how) = if let Some(tex) = sheet.count() {
            let length =
                thread::length_on_reel(net, tex).map_err(|error| refuse("paid", &error))?;
            (length, format!("{} of {tex}", net.show(units)))
        } else if self.kind == Kind::Thread {
            return Err(missing("yarn count", "material.yarn_count"));
        } else {
            let full = sheet
                .full_width_m
                .ok_or_else(|| missing("full width", "material.full_width"))?;
            let mass = sheet
                .mass_gsm
                .ok_or_else(|| missing("mass per area", "material.mass"))?;
            let length = cloth::length_by_mass(net, mass.0, full.0)
                .map_err(|error| invalid("paid", error.to_string()))?;
            let wide = full.0.show_width(units);
            (
                length,
                format!(
                    "{} of {} at a full width of {wide}",
                    net.show(units),
                    mass.0.show(units)
                ),
            )
        };
        if length.is_zero() {
            return Err(invalid("paid", format!("{how} comes to no length at all")));
        }
        let net = match self.kind.is_rectangle() {
            true => ", taken as net: no core comes off",
            false => "",
        };
        notes.push(format!(
            "{} by mass: {how}{net}, estimated",
            length.show(units)
        ));
        Ok(length)
    }
}

//! Hours, the end of a garment, and undo of what was drawn before.

use super::compare::compare;
use super::draw::{Driver, pick};
use crate::oracle::acts::Leftover;
use crate::oracle::stock::Stage;
use crate::oracle::{Act, ActId, Verdict};

impl Driver {
    pub(super) fn work(&mut self, a: u16, b: u16, c: u16) -> Result<(), String> {
        let persons: Vec<ActId> = self.real.persons.keys().copied().collect();
        let Some(person) = pick(&persons, b) else {
            return Ok(());
        };
        let day = i32::from(c % 30) - 18;
        // A rate that reaches into what is finished is refused; when it does, the text does not say to the day.
        let over = self
            .history
            .stock
            .garments
            .values()
            .any(|made| made.stage != Stage::Open);
        match a % 8 {
            0 | 1 if over => Ok(()),
            0 => self.book(Act::Pay {
                person,
                per_hour: 10_0000 + i128::from(c) * 3,
                from: Some(day),
            }),
            1 => self.book(Act::Overhead {
                cost: i128::from(b) + 1,
                hours: i128::from(c % 40) + 1,
                from: Some(day),
            }),
            _ => {
                let Some(garment) = pick(&self.open(), a) else {
                    return Ok(());
                };
                let minutes = i128::from(c % 290) + 1;
                self.book(Act::Work {
                    garment,
                    person,
                    minutes,
                    day,
                    billable: !b.is_multiple_of(7),
                })
            }
        }
    }

    pub(super) fn end(&mut self, a: u16, b: u16, c: u16) -> Result<(), String> {
        let finished = self
            .history
            .stock
            .garments
            .iter()
            .filter(|(_, made)| made.stage == Stage::Finished);
        let finished: Vec<ActId> = finished.map(|(id, _)| *id).collect();
        if let (Some(garment), 0) = (pick(&finished, a), b % 5) {
            return self.book(Act::Deliver { garment });
        }
        let Some(garment) = pick(&self.open(), a) else {
            return Ok(());
        };
        let made = &self.history.stock.garments[&garment];
        let worked = self
            .history
            .standing(0)
            .any(|(_, act)| matches!(act, Act::Work { garment: of, .. } if *of == garment));
        let spoiled = if worked {
            0
        } else {
            i128::from(c % 2).min(made.count - 1)
        };
        let good = made.count - spoiled;
        let own = made
            .takes
            .iter()
            .all(|take| matches!(self.history.acts[take.act], Act::Cut { garment: of, .. } if of == garment));
        let others: Vec<ActId> = self
            .open()
            .into_iter()
            .filter(|other| *other != garment)
            .collect();
        let leftover = match (c % 3, pick(&others, c)) {
            (0, _) if own && !made.takes.is_empty() => Leftover::Shelf,
            (1, Some(other)) if !made.takes.is_empty() => Leftover::Into(other),
            _ => Leftover::Loss,
        };
        match b % 5 {
            1 | 2 => self.book(Act::Finish {
                garment,
                good,
                spoiled,
            }),
            _ => self.book(Act::Cancel { garment, leftover }),
        }
    }

    pub(super) fn undo(&mut self, a: u16) -> Result<(), String> {
        let standing: Vec<ActId> = self
            .history
            .standing(0)
            .map(|(id, _)| id)
            .filter(|id| self.real.bookings.contains_key(id))
            .collect();
        // The newest ones more often: what is old has much resting on it.
        let number = if a.is_multiple_of(3) {
            a / 3
        } else {
            u16::try_from(standing.len().saturating_sub(1 + usize::from(a / 3 % 5))).unwrap()
        };
        let Some(act) = pick(&standing, number) else {
            return Ok(());
        };
        let verdict = self.history.verdict(act);
        let answer = self.real.undo(act);
        match (verdict, answer) {
            (Verdict::Refuse(_), Ok(())) => {
                Err(format!("undone, though the text refuses it: {verdict:?}"))
            }
            (Verdict::Accept, Err(problem)) => Err(format!(
                "not undone, though the text allows it: {}",
                problem.detail
            )),
            (_, Err(_)) => Ok(()),
            (_, Ok(())) => {
                self.history
                    .undo(act)
                    .map_err(|why| format!("without it the history cannot be: {why:?}"))?;
                compare(&self.real, &self.history)
            }
        }
    }
}

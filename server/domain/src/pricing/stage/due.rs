//! Which stages are reached by their days.

use super::Schedule;
use chrono::NaiveDate;

/// How many stages are reached on a day: up to the last whose day has come. A stage without a day between two of them is
/// reached with the later one; the stages follow one another.
///
/// - Shape: one day per stage, in order; `None`: it is due when it is reached.
///
/// ```
/// use ellwand_domain::pricing::stages_reached;
/// let day = |day| chrono::NaiveDate::from_ymd_opt(2026, 12, day);
/// assert_eq!(stages_reached(&[day(1), None, day(31)], day(31).expect("a day")), 3);
/// ```
#[must_use]
pub fn stages_reached(due: &[Option<NaiveDate>], today: NaiveDate) -> usize {
    let come = |due: &Option<NaiveDate>| due.is_some_and(|day| day <= today);
    due.iter()
        .rposition(come)
        .map_or(0, |last| last.saturating_add(1))
}

impl Schedule {
    /// Stages that are reached: all once it is delivered, else as [`stages_reached`] says.
    #[must_use]
    pub fn reached(&self, due: &[Option<NaiveDate>], today: NaiveDate, delivered: bool) -> usize {
        if delivered {
            self.stages.len()
        } else {
            stages_reached(due, today).min(self.stages.len())
        }
    }
}

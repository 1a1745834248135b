//! Saying what a detail was worth.

use super::Parts;
use crate::{
    desk::{
        Desk, Entry,
        failure::{Done, Failure, invalid, not_before, wrong_state},
        perform::Perform,
        trace::Traced,
    },
    garments::{need::load_head, operation::is_same},
    people::parties::clean_name,
};
use chrono::NaiveDate;
use ellwand_contract::{
    Problem, ProblemType,
    details::{DetailRated, RateDetail},
};
use ellwand_domain::{
    code::BookingCode,
    setting::{BookingKind, Facet, GarmentState},
};
use ellwand_storage::{DetailRating, Subject};

/// From not worth its effort to worth every minute.
const RATINGS: std::ops::RangeInclusive<i64> = 1..=5;

impl Perform for RateDetail {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<DetailRated, Failure> {
        let garment = load_head(desk, self.garment)?;
        if !matches!(
            garment.state,
            GarmentState::Finished | GarmentState::Delivered
        ) {
            let detail = format!(
                "{} is {}; a detail can be rated once the garment is finished",
                self.garment, garment.state
            );
            return Err(
                wrong_state(detail, "finish it first with ellwand garment finish")
                    .naming("garment", self.garment)
                    .naming("state", garment.state),
            );
        }
        if !RATINGS.contains(&self.rating) {
            return Err(invalid(
                "rating",
                format!("{} is not a rating; give 1 to 5", self.rating),
            )
            .with("wanted", self.rating)
            .with("least", *RATINGS.start())
            .with("most", *RATINGS.end()));
        }
        let asked = clean_name("detail", &self.detail)?;
        let names = Parts::read(desk, &garment)?.names();
        let Some(name) = names.iter().find(|name| is_same(name, &asked)) else {
            let problem = Problem::new(
                ProblemType::NotFound,
                format!("{} has no detail {asked}", self.garment),
            );
            let hint = match names.as_slice() {
                [] => "no need, operation or minute of it belongs to a detail".to_owned(),
                names => format!("it has {}", names.join(", ")),
            };
            return Err(problem.field("detail").hint(hint).into());
        };
        let ratings = desk.tx.detail_ratings(garment.id)?;
        let before = ratings.into_iter().find(|row| is_same(&row.name, name));
        let day = day_of(desk, garment.id, self)?;
        let booking = desk.next_booking()?;
        let row = DetailRating {
            garment_id: garment.id,
            name_search: name.to_lowercase(),
            name: name.clone(),
            rating: self.rating,
            booking_id: booking,
        };
        desk.tx.save_detail_rating(&row)?;
        let summary = format!(
            "Rated the {name} of {} {}: {}.",
            self.garment, garment.name, self.rating
        );
        let mut entry = Entry::new(BookingKind::Rated, day, summary);
        entry.subjects.push((Subject::Garment, garment.id));
        let former = before.as_ref().map(|row| (row.rating, row.booking_id));
        let wrote = Traced::wrote(Facet::Rating, garment.id, &former)?.part(name.clone());
        // What is not made yet is not rated.
        let rests = Traced::rests(Facet::Garment, garment.id, String::new());
        entry.traces = vec![wrote, rests];
        desk.book(booking, entry)?;
        Ok(DetailRated {
            booking: BookingCode::new(booking),
            garment: self.garment,
            detail: name.clone(),
            rating: self.rating,
            before: before.map(|row| row.rating),
        })
    }
}

/// The day of the rating: not before the garment was finished.
fn day_of(desk: &mut Desk<'_>, garment: i64, request: &RateDetail) -> Done<NaiveDate> {
    let day = desk.context.day(request.date)?;
    let finished = desk
        .tx
        .standing_bookings(Subject::Garment, garment, BookingKind::Finished)?;
    let finished = finished.iter().map(|booking| booking.on_date).max();
    let garment = request.garment;
    not_before(day, finished, |finished| {
        format!("{garment} cannot be rated on {day}: it was finished on {finished}")
    })
}

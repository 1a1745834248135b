//! Reads a seam as it was typed.

use super::{
    SeamInput,
    refusal::{invalid, refused},
};
use crate::{
    Problem,
    text::{clean_name, spelled},
};
use ellwand_domain::{
    quantity::{Micrometres, PartsPerMillion, QuantityError},
    thread::{Density, Measures, Roles, Sample, Seam, SeamError, Stitch},
};

/// A field read, or its refusal.
type Done<T> = Result<T, Box<Problem>>;

/// Role of the thread of a seam that names none.
const THREAD: &str = "thread";

impl SeamInput {
    /// The seam in one spelling, with its roles.
    ///
    /// # Errors
    /// An unknown stitch, a second thread for a stitch that has one, a detail without a valid name.
    pub fn normal(&self) -> Done<Self> {
        let stitch = Stitch::parse(&self.stitch).map_err(|error| refused(&error))?;
        let role =
            |text: &Option<String>| text.as_deref().map(spelled).filter(|role| !role.is_empty());
        let needle = role(&self.needle).unwrap_or_else(|| THREAD.to_owned());
        let under = role(&self.under);
        // For an unknown stitch its sample tells how many threads it has.
        let measured = matches!(stitch, Stitch::Unknown(_)) && self.sample_under.is_some();
        if under.is_some() && stitch.threads().1 == 0 && !measured {
            return Err(refused(&SeamError::OneThread {
                stitch: stitch.to_string(),
            }));
        }
        let detail = self
            .detail
            .as_deref()
            .map(|detail| clean_name("detail", detail))
            .transpose()?;
        Ok(Self {
            name: spelled(&self.name),
            stitch: stitch.to_string(),
            under: Some(under.unwrap_or_else(|| needle.clone())),
            needle: Some(needle),
            detail,
            ..self.clone()
        })
    }

    /// The thread of a seam that is [`Self::normal`], and the roles it comes from.
    ///
    /// # Errors
    /// A figure that cannot be read, or is missing; names its field.
    pub fn roles(&self) -> Done<Roles> {
        let thread = seam(self)?.thread().map_err(|error| refused(&error))?;
        let role = |text: &Option<String>| text.clone().unwrap_or_else(|| THREAD.to_owned());
        let roles = Roles {
            needle: role(&self.needle),
            under: role(&self.under),
            thread,
        };
        roles.check().map_err(|error| refused(&error))?;
        Ok(roles)
    }

    /// The length of one.
    ///
    /// # Errors
    /// A text that is no length.
    pub fn length_of_one(&self) -> Done<Option<Micrometres>> {
        quantity("length", self.length.as_deref())
    }
}

fn seam(input: &SeamInput) -> Done<Seam> {
    let length = |name: &str, text: &Option<String>| quantity::<Micrometres>(name, text.as_deref());
    let density = match (&input.per_cm, &input.step) {
        (Some(_), Some(_)) => {
            return Err(invalid(
                "step",
                "stitches in a centimetre and the length of one are the same figure; give one",
            ));
        }
        (Some(text), None) => Some(positive("per_cm", Density::parse_per_cm(text))?),
        (None, Some(text)) => {
            let step: Micrometres = text
                .parse()
                .map_err(|error: QuantityError| fault("step", &error))?;
            Some(positive("step", Density::of_step(step))?)
        }
        (None, None) => None,
    };
    let needle_share = quantity::<PartsPerMillion>("needle_share", input.needle_share.as_deref())?;
    Ok(Seam {
        stitch: Stitch::parse(&input.stitch).map_err(|error| refused(&error))?,
        count: input.count,
        measures: Measures {
            length: length("length", &input.length)?,
            density,
            thickness: length("thickness", &input.thickness)?,
            width: length("width", &input.width)?,
            bite: length("bite", &input.bite)?,
            across: length("across", &input.across)?,
            knot: length("knot", &input.knot)?,
            shank: length("shank", &input.shank)?,
            stitches: input.stitches,
        },
        sample: sample(input)?,
        each: length("each", &input.each)?,
        needle_share,
    })
}

fn sample(input: &SeamInput) -> Done<Option<Sample>> {
    let (sample, needle, under) = (&input.sample, &input.sample_needle, &input.sample_under);
    if sample.is_none() && needle.is_none() && under.is_none() {
        return Ok(None);
    }
    if input.each.is_some() {
        return Err(invalid(
            "each",
            "a sample and a figure for each are given; give one of them",
        ));
    }
    let length = |name: &str, text: &Option<String>| quantity::<Micrometres>(name, text.as_deref());
    let sample = Sample::new(
        length("sample", sample)?.unwrap_or_default(),
        length("sample_needle", needle)?.unwrap_or_default(),
        length("sample_under", under)?.unwrap_or_default(),
    );
    sample.map(Some).map_err(|error| refused(&error))
}

fn quantity<T: std::str::FromStr<Err = QuantityError>>(
    name: &str,
    text: Option<&str>,
) -> Done<Option<T>> {
    text.map(str::parse)
        .transpose()
        .map_err(|error| fault(name, &error))
}

fn positive(name: &str, read: Result<Density, QuantityError>) -> Done<Density> {
    read.map_err(|error| fault(name, &error))
}

fn fault(name: &str, error: &QuantityError) -> Box<Problem> {
    invalid(name, format!("{}: {error}", name.replace('_', "-")))
}

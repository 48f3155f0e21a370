//! How far rafters and ceiling joists span.

use crate::catalog::{Edition, Grade, LumberSize, Species, UnknownName, sizes};
use crate::facts;
use crate::measure::load::{LOAD_IS_WRITTEN, load as read_load};
use crate::measure::quantity::{InInches, in_psf, inches};
use crate::measure::{Length, Pressure, read};
use crate::plan::{Fault, Faults, Place};
use crate::sheet::{self, Depth, Look};
use crate::strength::span_query::{AskedLoad, MemberKind, SpanQuery, SpanRow};

use super::{Found, NotWritten, Refused, Status, csv, json};

/// The spans in question, as text; every value left out takes all those in the code's tables.
#[derive(Debug, Clone, Default)]
pub struct SpansAsked {
    /// Rafters or ceiling joists; both if not set.
    pub member: Option<MemberKind>,
    /// Species by short or full name.
    pub species: Vec<String>,
    /// Grades.
    pub grade: Vec<String>,
    /// Nominal sizes.
    pub size: Vec<String>,
    /// Spacings on center; bare numbers are inches.
    pub spacing: Vec<String>,
    /// Live loads; bare numbers are psf.
    pub live: Vec<String>,
    /// Ground snow loads; bare numbers are psf.
    pub snow: Vec<String>,
    /// Dead loads of level projection; bare numbers are psf.
    pub dead: Vec<String>,
    /// True for a ceiling attached to the rafters.
    pub ceiling: Option<bool>,
    /// Deflection limit n of span/n.
    pub deflection: Option<String>,
    /// Length of the end bearing.
    pub bearing: Option<String>,
    /// Year of the model code.
    pub edition: String,
}

/// The spans that answer it.
pub(super) struct Spans {
    rows: Vec<SpanRow>,
    left_out: Vec<String>,
    edition: Edition,
}

impl Found for Spans {
    fn status(&self) -> Status {
        Status::Done
    }

    fn json(&self, explain: bool) -> Result<Vec<u8>, NotWritten> {
        json(&facts::spans::SpansReport::of(&self.rows, &self.left_out, self.edition, explain))
    }

    fn csv(&self, _: &Look) -> Result<Vec<u8>, NotWritten> {
        csv(facts::spans::csv_rows(&self.rows, self.edition))
    }

    fn text(&self, look: &Look, depth: Depth) -> String {
        sheet::spans::text(&self.rows, &self.left_out, self.edition, look, depth)
    }
}

/// Computes them.
pub(super) fn find(asked: &SpansAsked) -> Result<Spans, Refused> {
    let (query, edition) = asked.query()?;
    let rows = query.solve().map_err(|fault| {
        Refused::of_flag(
            "--grade",
            &asked.grade.join(" "),
            fault.to_string(),
            "No.1 & Btr has values for Douglas fir-larch and Hem-fir; write SS, No.1, No.2 or No.3",
        )
    })?;
    Ok(Spans { rows, left_out: query.without_design_values(), edition })
}

impl SpansAsked {
    /// The question, or every fault in it.
    fn query(&self) -> Result<(SpanQuery, Edition), Refused> {
        let mut faults = Faults::new();
        let edition = each("--edition", std::slice::from_ref(&self.edition), &mut faults, |text| {
            text.parse::<Edition>().map_err(named)
        });
        let mut loads: Vec<AskedLoad> = each("--live", &self.live, &mut faults, live_or_snow)
            .into_iter()
            .map(AskedLoad::Live)
            .collect();
        loads.extend(
            each("--snow", &self.snow, &mut faults, live_or_snow)
                .into_iter()
                .map(AskedLoad::GroundSnow),
        );
        let query = SpanQuery {
            member: self.member,
            species: each("--species", &self.species, &mut faults, |text| {
                text.parse::<Species>().map_err(named)
            }),
            grades: each("--grade", &self.grade, &mut faults, |text| {
                text.parse::<Grade>().map_err(named)
            }),
            sizes: each("--size", &self.size, &mut faults, |text| {
                sizes::size(text).map_err(named).and_then(has_values)
            }),
            spacings: each("--spacing", &self.spacing, &mut faults, spacing),
            loads,
            dead: each("--dead", &self.dead, &mut faults, dead),
            ceiling: self.ceiling,
            deflection_limit: each(
                "--deflection",
                self.deflection.as_slice(),
                &mut faults,
                deflection,
            )
            .first()
            .copied(),
            bearing_length: each("--bearing", self.bearing.as_slice(), &mut faults, bearing)
                .first()
                .copied(),
        };
        self.contradictions(&mut faults);
        match edition.first() {
            Some(&edition) if faults.is_empty() => Ok((query, edition)),
            _ => Err(Refused::of(faults)),
        }
    }

    fn contradictions(&self, faults: &mut Faults) {
        let joists = self.member == Some(MemberKind::CeilingJoist);
        if joists && !self.snow.is_empty() {
            faults.push(Fault::new(
                place("--snow", &self.snow.join(" ")),
                "ceiling joists carry no snow",
                "write --live 10 (attic without storage) or --live 20 (limited storage)",
            ));
        }
        if joists && self.ceiling == Some(false) {
            faults.push(Fault::new(
                place("--ceiling", "no"),
                "ceiling joists carry the ceiling",
                "leave --ceiling out, or ask for rafters",
            ));
        }
    }
}

fn place(flag: &'static str, text: &str) -> Place {
    Place::Flag { flag, text: text.to_owned() }
}

/// Message and help for a value that can't be read.
type Refusal = (String, String);

/// Reads every value of a flag, with a fault for each that can't be read.
fn each<T>(
    flag: &'static str,
    texts: &[String],
    faults: &mut Faults,
    reader: impl Fn(&str) -> Result<T, Refusal>,
) -> Vec<T> {
    let mut values = Vec::new();
    for text in texts {
        match reader(text) {
            Ok(value) => values.push(value),
            Err((message, help)) => faults.push(Fault::new(place(flag, text), message, help)),
        }
    }
    values
}

fn named(unknown: UnknownName) -> Refusal {
    (
        format!("there is no {} `{}` here", unknown.what, unknown.found),
        format!("write one of: {}", unknown.allowed),
    )
}

fn has_values(size: &'static LumberSize) -> Result<&'static LumberSize, Refusal> {
    if size.class == sizes::LumberClass::Dimension {
        Ok(size)
    } else {
        Err((
            format!(
                "{} has no design values here: they are for lumber 2 to 4 in thick",
                size.nominal
            ),
            "write a size from 2x2 to 4x14; beams of timber need design".to_owned(),
        ))
    }
}

/// A load: psf if no unit is written, or kPa.
fn load(text: &str) -> Result<Pressure, Refusal> {
    read_load(text)
        .ok_or_else(|| ("this is no load".to_owned(), format!("write {LOAD_IS_WRITTEN}")))
}

fn live_or_snow(text: &str) -> Result<Pressure, Refusal> {
    let load = load(text)?;
    bounded(load, in_psf(load) > 0.0 && in_psf(load) <= 300.0, || {
        "a live or snow load lies above 0 and up to 300 psf".to_owned()
    })
}

fn dead(text: &str) -> Result<Pressure, Refusal> {
    let load = load(text)?;
    bounded(load, (0.0..=200.0).contains(&in_psf(load)), || {
        "a dead load lies from 0 to 200 psf".to_owned()
    })
}

fn spacing(text: &str) -> Result<Length, Refusal> {
    let length = length(text)?;
    bounded(length, (1.0..=96.0).contains(&length.inches()), || {
        "a spacing lies from 1 to 96 in".to_owned()
    })
}

fn bearing(text: &str) -> Result<Length, Refusal> {
    let length = length(text)?;
    bounded(length, (0.5..=24.0).contains(&length.inches()), || {
        "a bearing length lies from 1/2 to 24 in".to_owned()
    })
}

fn deflection(text: &str) -> Result<u32, Refusal> {
    let number = text.trim().trim_start_matches("L/").trim_start_matches("l/");
    match number.parse() {
        Ok(limit) if (120..=720).contains(&limit) => Ok(limit),
        _ => Err((
            "this is no deflection limit".to_owned(),
            "write n of span/n, from 120 to 720, such as 360".to_owned(),
        )),
    }
}

/// A length; a bare number is inches.
fn length(text: &str) -> Result<Length, Refusal> {
    match text.trim().parse::<f64>() {
        Ok(bare) if bare.is_finite() => Ok(inches(bare)),
        _ => read::length(text).map_err(|error| (error.to_string(), error.problem.help())),
    }
}

fn bounded<T>(value: T, is_allowed: bool, limits: impl Fn() -> String) -> Result<T, Refusal> {
    if is_allowed { Ok(value) } else { Err(("this is outside the range".to_owned(), limits())) }
}

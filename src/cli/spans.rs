//! `stepoff spans`: how far rafters and ceiling joists span.

use clap::ValueEnum;

use crate::catalog::{Edition, Grade, LumberSize, Species, UnknownName, sizes};
use crate::export;
use crate::measure::Units;
use crate::measure::load::{LOAD_IS_WRITTEN, load as read_load};
use crate::measure::quantity::{in_inches, in_psf, inches};
use crate::measure::{Length, Pressure, read};
use crate::plan::{Fault, Faults, Place};
use crate::sheet;
use crate::strength::span_query::{AskedLoad, MemberKind, SpanQuery};

use super::output::{Failure, Format, OutputArgs, Status, print, print_csv, print_json};

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum MemberFlag {
    Rafter,
    CeilingJoist,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum CeilingFlag {
    Yes,
    No,
}

/// Every value left out runs through those of the code's tables.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// Rafters or ceiling joists [default: both]
    #[arg(long, value_enum)]
    member: Option<MemberFlag>,
    /// Species: DFL, HF, SP, SPF or the full name [default: all four]
    #[arg(long, num_args = 1.., value_delimiter = ',')]
    species: Vec<String>,
    /// Grade: SS, "No.1 & Btr", No.1, No.2, No.3 [default: the four of the tables]
    #[arg(long, num_args = 1.., value_delimiter = ',')]
    grade: Vec<String>,
    /// Size: 2x4 to 2x14, 3x4 to 4x14 [default: those of the tables]
    #[arg(long, num_args = 1.., value_delimiter = ',')]
    size: Vec<String>,
    /// Spacing on center, inches if no unit is written [default: 12, 16, 19.2, 24]
    #[arg(long, num_args = 1.., value_delimiter = ',', allow_negative_numbers = true, value_name = "LENGTH")]
    spacing: Vec<String>,
    /// Roof live load, or attic live load for joists: psf if no unit is written, or kPa [default: 20; joists 10 and 20]
    #[arg(long, num_args = 1.., value_delimiter = ',', allow_negative_numbers = true, value_name = "LOAD")]
    live: Vec<String>,
    /// Ground snow load: psf if no unit is written, or kPa [default: 30, 50, 70]
    #[arg(long, num_args = 1.., value_delimiter = ',', allow_negative_numbers = true, value_name = "LOAD")]
    snow: Vec<String>,
    /// Dead load, of horizontal projection [default: 10 and 20; joists 5 without storage, 10 with]
    #[arg(long, num_args = 1.., value_delimiter = ',', allow_negative_numbers = true, value_name = "LOAD")]
    dead: Vec<String>,
    /// Ceiling attached to the rafters [default: both]
    #[arg(long, value_enum)]
    ceiling: Option<CeilingFlag>,
    /// Deflection limit n of span/n under live or snow load, 120 to 720 (360 for plaster) [default: 180 without ceiling, 240 with]
    #[arg(long, value_name = "N")]
    deflection: Option<String>,
    /// Length of the end bearing; counts off the tables only [default: 1-1/2in]
    #[arg(long, value_name = "LENGTH")]
    bearing: Option<String>,
    /// Edition of the model code whose table numbers are given: 2015, 2018, 2021, 2024
    #[arg(long, default_value = "2021")]
    edition: String,
    #[command(flatten)]
    output: OutputArgs,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let look = args.output.look(Units::Feet)?;
    let (query, edition) = args.query()?;
    let rows = query.solve().map_err(|fault| Failure::Refused {
        faults: Faults::from(Fault::new(
            place("--grade", &args.grade.join(" ")),
            fault.to_string(),
            "No.1 & Btr has values for Douglas fir-larch and Hem-fir; write SS, No.1, No.2 or No.3",
        )),
        file: None,
    })?;
    let left_out = query.without_design_values();
    match args.output.format {
        Format::Json => {
            print_json(&export::spans::report(&rows, left_out, edition, args.output.explain))?;
        }
        Format::Csv => print_csv(export::spans::csv_rows(&rows, edition))?,
        Format::Table => {
            print(&sheet::spans::text(&rows, &left_out, edition, &look, args.output.explain))?;
        }
    }
    Ok(Status::Done)
}

impl Args {
    /// The question, or every fault in it.
    fn query(&self) -> Result<(SpanQuery, Edition), Failure> {
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
            member: self.member.map(|member| match member {
                MemberFlag::Rafter => MemberKind::Rafter,
                MemberFlag::CeilingJoist => MemberKind::CeilingJoist,
            }),
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
            ceiling: self.ceiling.map(|ceiling| ceiling == CeilingFlag::Yes),
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
            _ => Err(Failure::Refused { faults, file: None }),
        }
    }

    fn contradictions(&self, faults: &mut Faults) {
        let joists = self.member == Some(MemberFlag::CeilingJoist);
        if joists && !self.snow.is_empty() {
            faults.push(Fault::new(
                place("--snow", &self.snow.join(" ")),
                "ceiling joists carry no snow",
                "write --live 10 (attic without storage) or --live 20 (limited storage)",
            ));
        }
        if joists && self.ceiling == Some(CeilingFlag::No) {
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

/// Message and help of a value that can't be taken.
type Refusal = (String, String);

/// Every value of a flag read, with a fault for each that can't be.
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
    bounded(length, (1.0..=96.0).contains(&in_inches(length)), || {
        "a spacing lies from 1 to 96 in".to_owned()
    })
}

fn bearing(text: &str) -> Result<Length, Refusal> {
    let length = length(text)?;
    bounded(length, (0.5..=24.0).contains(&in_inches(length)), || {
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

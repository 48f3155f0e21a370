//! `stepoff spans`: how far rafters and ceiling joists span.

use crate::answer::{SpansAsked, Status, What};
use crate::strength::span_query::MemberKind;

use super::choice::{Choice, choices};
use super::input::question;
use super::output::{Failure, OutputArgs, tell};

choices! { MemberKind:
    MemberKind::Rafter => "rafter" "";
    MemberKind::CeilingJoist => "ceiling-joist" "";
}

choices! { bool:
    true => "yes" "";
    false => "no" "";
}

/// Every value left out takes all those in the code's tables.
#[derive(Debug, clap::Args)]
pub(super) struct Args {
    /// Rafters or ceiling joists [default: both]
    #[arg(long, value_enum)]
    member: Option<Choice<MemberKind>>,
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
    ceiling: Option<Choice<bool>>,
    /// Deflection limit n of span/n under live or snow load, 120 to 720 (360 for plaster) [default: 180 without ceiling, 240 with]
    #[arg(long, value_name = "N")]
    deflection: Option<String>,
    /// Length of the end bearing; used only outside the tables [default: 1-1/2in]
    #[arg(long, value_name = "LENGTH")]
    bearing: Option<String>,
    /// Edition of the model code for the table numbers: 2015, 2018, 2021, 2024
    #[arg(long, default_value = "2021")]
    edition: String,
    #[command(flatten)]
    output: OutputArgs,
}

pub(super) fn run(args: &Args) -> Result<Status, Failure> {
    let asked = SpansAsked {
        member: args.member.map(|member| member.value),
        species: args.species.clone(),
        grade: args.grade.clone(),
        size: args.size.clone(),
        spacing: args.spacing.clone(),
        live: args.live.clone(),
        snow: args.snow.clone(),
        dead: args.dead.clone(),
        ceiling: args.ceiling.map(|ceiling| ceiling.value),
        deflection: args.deflection.clone(),
        bearing: args.bearing.clone(),
        edition: args.edition.clone(),
    };
    let what = What::Spans(Box::new(asked));
    tell(&question(what, Vec::new(), None, &args.output)?, args.output.form())
}

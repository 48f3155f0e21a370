//! Questions and answers as JSON texts: what the page in a browser sends to the engine, and what it gets back.
//!
//! A question names what is asked (`ask`) and brings the roof file's text; an answer is `{"ok": ...}`, or `{"refused": [...]}`
//! with every fault at the field that it concerns, or `{"stopped": ...}`. No question ends in a panic.

mod field;
mod goods;
mod print;
mod refusal;
mod told;
mod tried;

use base64::prelude::{BASE64_STANDARD, Engine as _};
use serde::{Deserialize, Serialize};
use serde_json::value::RawValue;

use crate::export::unit::FileUnit;
use crate::plan::{edit, nudge};
use crate::sheet::set::Kind;
use crate::sheet::svg::font_faces;
use crate::sheet::typeface::Weight;

use super::rooms::{self, Placed, Room, View};
use super::sheets::{self, SetForm, SheetsAsked};
use super::trial;
use super::{
    Answer, Asker, CompareAsked, ExportTo, Form, Input, NoAnswer, Question, What, ask_for, beyond,
};

use told::{Not, PageUnits, address, key, keys, look, source, value};

/// Drawings of the page are between so many inches wide and high.
const WIDE: (f64, f64) = (2.0, 40.0);
const HIGH: (f64, f64) = (1.0, 40.0);

/// A question of the page.
#[derive(Debug, Deserialize)]
#[serde(tag = "ask", rename_all = "lowercase", deny_unknown_fields)]
enum Asked {
    /// What a room shows.
    Room {
        room: Room,
        roof: String,
        units: Option<PageUnits>,
        /// Width of drawings, inches.
        wide: f64,
        /// Height of the drawing that always stands, inches.
        high: f64,
        /// The field that is being changed.
        field: Option<String>,
        /// The prices that are kept (TOML).
        prices: Option<String>,
        /// How the drawing that always stands was placed, while one of its points is dragged.
        held: Option<Placed>,
    },
    /// The program's JSON of one command; values set here override the roof file.
    Facts {
        of: Command,
        roof: String,
        #[serde(default)]
        set: Vec<(String, String)>,
    },
    /// A file to save.
    File { to: SaveAs, roof: String, units: Option<PageUnits>, prices: Option<String> },
    /// The sheets to print: every one, or those of these kinds.
    Sheets {
        roof: String,
        units: Option<PageUnits>,
        paper: Option<print::PrintOn>,
        only: Option<Vec<String>>,
        prices: Option<String>,
    },
    /// The drawings' typeface as a style: the page takes it from here instead of carrying it twice.
    Typeface,
    /// Kept prices with one changed; blank takes it out.
    Price { prices: Option<String>, key: String, price: String },
    /// Kept prices, with lengths that have no price bought too, or not.
    Lengths { prices: Option<String>, all: bool },
    /// A prices file (TOML, or CSV by its name) as the page keeps it.
    Prices { name: String, text: String },
    /// Every field there is, with what the roof file writes for it.
    Fields { roof: String, units: Option<PageUnits> },
    /// The roof file with other values: `null` takes one out.
    Edit { roof: String, set: Vec<(String, Option<String>)> },
    /// The roof file with a field one step up or down from the value that is used.
    Nudge { roof: String, field: String, up: bool, units: Option<PageUnits> },
    /// The roof file with one more wing, dormer or opening, where one has room.
    Add { roof: String, table: String },
    /// The roof file without one of them, by its number from 1.
    Remove { roof: String, table: String, number: usize },
    /// The roof file with the value of a field that brings its point to a place of the drawing (inches of paper from
    /// the upper left corner), and what the room of the numbers then shows.
    Drag {
        roof: String,
        field: String,
        at: [f64; 2],
        placed: Placed,
        units: Option<PageUnits>,
        wide: f64,
        high: f64,
    },
    /// What a text would mean as the value of a field.
    Read { field: String, text: String, units: Option<PageUnits> },
    /// The questions for a new roof.
    Questions,
    /// The roof file of answers to them.
    Start(tried::Start),
    /// What can be wanted of this roof, and what can be found for it.
    Terms { roof: String },
    /// One number found.
    Fit(tried::Tried),
    /// What may be varied in a comparison.
    Vary(tried::Tried),
    /// Roofs compared.
    Compare(tried::Tried),
    /// What mends each finding that fails or needs design.
    Cures(tried::Tried),
}

/// Commands whose JSON can be asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
enum Command {
    Rafter,
    Frame,
    Layout,
    Check,
    Ties,
    Order,
    Cuts,
    Fit,
    Compare,
}

/// Files that can be saved.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum SaveAs {
    #[cfg(feature = "pdf")]
    Pdf,
    Html,
    Dxf,
    Ifc,
    Gltf,
    Obj,
    Csv,
    #[cfg(feature = "spreadsheet")]
    Xlsx,
    Json,
    /// The order: rows, or a spreadsheet with prices to fill in.
    OrderCsv,
    #[cfg(feature = "spreadsheet")]
    OrderXlsx,
    /// The prices file of this roof, with blanks to fill in.
    PricesCsv,
}

/// A file that was asked for.
#[derive(Debug, Serialize)]
struct Saved {
    name: String,
    base64: String,
    /// What a reader has to be told beside it.
    word: Option<&'static str>,
}

/// What comes of a drag.
#[derive(Debug, Serialize)]
struct Dragged {
    roof: String,
    /// The room of the numbers; null if the point can't be dragged, or the roof is refused.
    view: Option<Box<RawValue>>,
}

/// What an answer comes to.
#[derive(Debug, Serialize)]
#[serde(rename_all = "lowercase")]
enum Told {
    Ok(Box<RawValue>),
    Refused(Vec<refusal::Refusal>),
    Stopped(String),
    /// The question itself can't be read: a fault of the page.
    Broken(String),
}

/// Answers a question of the page, for somebody who waits.
///
/// ```
/// let question = br#"{"ask": "read", "field": "building.span", "text": "16ft3in"}"#;
/// let answer = stepoff::answer::wire::answer(question, &stepoff::answer::Nobody);
/// let answer = String::from_utf8(answer).unwrap();
/// assert!(answer.contains("sixteen feet three inches"), "{answer}");
/// ```
#[must_use]
pub fn answer(question: &[u8], asker: &dyn Asker) -> Vec<u8> {
    let told = match serde_json::from_slice(question).map_err(|why| Not::Broken(why.to_string())) {
        Ok(asked) => answered(asked, asker),
        Err(why) => Err(why),
    };
    let told = match told {
        Ok(json) => Told::Ok(json),
        Err(Not::No(NoAnswer::Refused(all))) => Told::Refused(refusal::all(&all)),
        Err(Not::No(NoAnswer::Stopped(how_far))) => Told::Stopped(how_far),
        Err(Not::Broken(why)) => Told::Broken(why),
    };
    serde_json::to_vec(&told).unwrap_or_default()
}

fn answered(asked: Asked, asker: &dyn Asker) -> Result<Box<RawValue>, Not> {
    match asked {
        Asked::Room { room, roof, units, wide, high, field, prices, held } => {
            let input = Input::of(&[], Some(source(roof)));
            let look = look(units).look(input.units())?;
            let field = field.as_deref().map(address).transpose()?.map(|of| of.key);
            let held = held.map(Placed::held);
            let view = View { wide: within(wide, WIDE), high: within(high, HIGH), field, held };
            let prices = goods::read(prices)?;
            raw(rooms::view(room, input, prices.as_ref(), &look, &view, asker)?)
        }
        Asked::Facts { of, roof, set } => {
            let question = Question { set: keys(set)?, ..question(of.what(), roof, None) };
            let answer = ask_for(&question, asker)?;
            raw(answer.write(Form::Json)?)
        }
        Asked::File { to, roof, units, prices } => {
            let mut question = question(to.what(units), roof, units);
            question.prices = prices.map(goods::source);
            let answer = ask_for(&question, asker)?;
            match to.rows() {
                Some(name) => file(name.to_owned(), &answer.write(Form::Csv)?, None),
                None => saved(&answer),
            }
        }
        Asked::Sheets { roof, units, paper, only, prices } => {
            let input = Input::of(&[], Some(source(roof)));
            let look = look(units).look(input.units())?;
            let only =
                only.unwrap_or_default().iter().map(|name| kind(name)).collect::<Result<_, _>>()?;
            let paper = paper.map(print::PrintOn::paper);
            let asked = SheetsAsked {
                form: SetForm::Svg,
                only,
                paper,
                plan_set: false,
                date: String::new(),
            };
            value(&print::sheets(&sheets::find(input, goods::read(prices)?, &asked, &look, asker)?))
        }
        Asked::Typeface => value(&font_faces(&[Weight::Regular, Weight::Bold])),
        Asked::Price { prices, key, price } => value(&goods::with(prices, &key, &price)?),
        Asked::Lengths { prices, all } => value(&goods::lengths(prices, all)?),
        Asked::Prices { name, text } => value(&goods::opened(name, text)?),
        Asked::Fields { roof, units } => value(&field::all(&roof, units.map(PageUnits::units))),
        Asked::Edit { roof, set } => {
            let mut text = roof;
            for (field, written) in set {
                let field = address(&field)?;
                text = edit::at(&text, field, written.as_deref()).ok_or_else(no_edit)?;
            }
            value(&text)
        }
        Asked::Nudge { roof, field, up, units } => {
            let of = address(&field)?;
            let input = Input::of(&[], Some(source(roof.clone())));
            let units = units.map_or(input.units(), PageUnits::units);
            let now = field::now(&input, of);
            let next = now.and_then(|now| nudge::next(of.key, &now, up, units));
            match next {
                None => value(&roof),
                Some(next) => value(&edit::at(&roof, of, Some(&next)).ok_or_else(no_edit)?),
            }
        }
        Asked::Add { roof, table } => value(&trial::add::added(&roof, &table)?),
        Asked::Remove { roof, table, number } => {
            let item = number.checked_sub(1).ok_or_else(no_edit)?;
            value(&edit::without_item(&roof, &table, item).ok_or_else(no_edit)?)
        }
        Asked::Drag { roof, field, at, placed, units, wide, high } => {
            let key = key(&field)?;
            let input = Input::of(&[], Some(source(roof.clone())));
            let written = units.map_or(input.units(), PageUnits::units);
            let Some(next) = rooms::dragged(&input, key, at, placed, written)? else {
                return value(&Dragged { roof, view: None });
            };
            let roof = edit::with(&roof, key, Some(&next)).ok_or_else(no_edit)?;
            let input = Input::of(&[], Some(source(roof.clone())));
            let look = look(units).look(input.units())?;
            let view = View {
                wide: within(wide, WIDE),
                high: within(high, HIGH),
                field: Some(key),
                held: Some(placed.held()),
            };
            // a roof that is refused has no view: the page asks why
            let view = rooms::view(Room::Plan, input, None, &look, &view, asker).ok();
            value(&Dragged { roof, view: view.map(raw).transpose()? })
        }
        Asked::Read { field, text, units } => {
            let units = units.map(PageUnits::units);
            value(&field::read(address(&field)?.key, &text, units))
        }
        Asked::Questions => value(&trial::start::questions()),
        Asked::Start(asked) => asked.told(),
        Asked::Terms { roof } => {
            let input = Input::of(&[], Some(source(roof)));
            beyond::refuse_beyond_a_gable(&input)?;
            value(&trial::fit::terms(&input))
        }
        Asked::Fit(asked) => asked.fit(),
        Asked::Vary(asked) => asked.vary(),
        Asked::Compare(asked) => asked.compare(asker),
        Asked::Cures(asked) => asked.cures(asker),
    }
}

fn no_edit() -> Not {
    Not::Broken("this roof file is not TOML throughout, or has a table on one line".into())
}

fn kind(name: &str) -> Result<Kind, Not> {
    let known = Kind::ALL.into_iter().find(|kind| kind.name() == name);
    known.ok_or_else(|| Not::Broken(format!("no sheet is called {name}")))
}

fn within(value: f64, (low, high): (f64, f64)) -> f64 {
    if value.is_finite() { value.clamp(low, high) } else { low }
}

fn question(what: What, roof: String, units: Option<PageUnits>) -> Question {
    Question { roofs: vec![source(roof)], look: look(units), ..Question::of(what) }
}

impl Command {
    fn what(self) -> What {
        match self {
            Command::Rafter => What::Rafter { drawing: false },
            Command::Frame => What::Frame,
            Command::Layout => What::Layout,
            Command::Check => What::Check { walkthrough: false },
            Command::Ties => What::Ties,
            Command::Order => What::Order,
            Command::Cuts => What::Cuts { list: None },
            Command::Fit => What::Fit,
            Command::Compare => What::Compare(CompareAsked::default()),
        }
    }
}

impl SaveAs {
    fn what(self, units: Option<PageUnits>) -> What {
        let set = |form| {
            What::Sheets(SheetsAsked {
                form,
                only: Vec::new(),
                paper: None,
                plan_set: false,
                date: String::new(),
            })
        };
        // a file with a unit of its own takes none
        let unit = (units == Some(PageUnits::Metric)).then_some(FileUnit::Millimeter);
        let export = |to, unit| What::Export { to, unit };
        match self {
            #[cfg(feature = "pdf")]
            SaveAs::Pdf => set(SetForm::Pdf),
            SaveAs::Html => set(SetForm::Html),
            SaveAs::Dxf => export(ExportTo::Dxf, unit),
            SaveAs::Ifc => export(ExportTo::Ifc, unit),
            SaveAs::Gltf => export(ExportTo::Gltf, None),
            SaveAs::Obj => export(ExportTo::Obj, unit),
            SaveAs::Csv => export(ExportTo::Csv, None),
            #[cfg(feature = "spreadsheet")]
            SaveAs::Xlsx => export(ExportTo::Xlsx, unit),
            SaveAs::Json => export(ExportTo::Json, None),
            SaveAs::OrderCsv => What::Order,
            #[cfg(feature = "spreadsheet")]
            SaveAs::OrderXlsx => What::Order,
            SaveAs::PricesCsv => What::Prices,
        }
    }

    /// The name of a file that is the answer's rows.
    fn rows(self) -> Option<&'static str> {
        match self {
            SaveAs::OrderCsv => Some("order.csv"),
            SaveAs::PricesCsv => Some("prices.csv"),
            _ => None,
        }
    }
}

fn saved(answer: &Answer) -> Result<Box<RawValue>, Not> {
    let files = answer.files();
    let first = files.first().ok_or_else(|| Not::Broken("there is no file".into()))?;
    file(first.name.clone(), &first.bytes()?, answer.word(None))
}

fn file(name: String, bytes: &[u8], word: Option<&'static str>) -> Result<Box<RawValue>, Not> {
    value(&Saved { name, base64: BASE64_STANDARD.encode(bytes), word })
}

fn raw(json: Vec<u8>) -> Result<Box<RawValue>, Not> {
    let text = String::from_utf8(json).map_err(|why| Not::Broken(why.to_string()))?;
    RawValue::from_string(text).map_err(|why| Not::Broken(why.to_string()))
}

#[cfg(test)]
mod tests;

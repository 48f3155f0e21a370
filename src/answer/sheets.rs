//! The set of drawings and lists for the site, as files.

use crate::frame::{Eave, Frame, HungFrame};
use crate::measure::Writing;
use crate::order::{Order, Prices};
use crate::plan::text::on_one_line;
use crate::plan::{ChecksPlan, EavePlan, Fault, Faults, JobPlan, Place, Used};
use crate::rules::{Book, Code, Finding, Tied, any_roof as any_rules, check};
use crate::sheet::paper::{Job, Page, Paper, TitleBlock};
use crate::sheet::set::{HungMatter, Kind, Matter};
use crate::sheet::{self, Look};

use super::framing::Framing;
use super::roofs::Roofs;
use super::{
    Asker, File, Form, Found, Input, NoAnswer, NotWritten, Refused, Status, any_roof, faces_deck,
};

/// Which sheets, on what paper, written how.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetsAsked {
    /// What the set is written as.
    pub form: SetForm,
    /// The sheets; if empty, all.
    pub only: Vec<Kind>,
    /// The paper; by default the usual one of the units.
    pub paper: Option<Paper>,
    /// A plan set for the building department, with its title block.
    pub plan_set: bool,
    /// Date for the title block, as it is written.
    pub date: String,
}

/// What a set is written as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SetForm {
    /// One file to print.
    #[cfg(feature = "pdf")]
    Pdf,
    /// One file for a phone.
    Html,
    /// A drawing a page.
    Svg,
    /// One picture for each page, in dots per inch.
    #[cfg(feature = "png")]
    Png(u16),
}

/// A set of sheets.
pub(super) struct Set {
    pages: Vec<Page>,
    title: String,
    form: SetForm,
    status: Status,
}

impl Set {
    /// The sheets.
    pub(super) fn pages(&self) -> &[Page] {
        &self.pages
    }

    /// A file a page, `set-01.svg` and so on.
    fn one_a_page<'a>(
        &'a self,
        ending: &str,
        write: impl Fn(&Page) -> Result<Vec<u8>, NotWritten> + Copy + 'a,
    ) -> Vec<File<'a>> {
        let file = |(number, page): (usize, &'a Page)| {
            File::new(format!("set-{:02}.{ending}", number + 1), move || write(page))
        };
        self.pages.iter().enumerate().map(file).collect()
    }
}

impl Found for Set {
    fn status(&self) -> Status {
        self.status
    }

    fn word(&self, _: Option<Form>) -> Option<&'static str> {
        let items = self.pages.iter().flat_map(|page| &page.drawing.items);
        let mut texts = items.filter_map(|item| match item {
            sheet::Item::Text { text, weight, .. } => Some((text, weight)),
            _ => None,
        });
        texts.any(|(text, weight)| weight.shown(text) != *text).then_some(
            "the sheets' typeface has no sign for some letters of this roof file; they are shown as ?",
        )
    }

    fn files(&self, _: &Look) -> Vec<File<'_>> {
        match self.form {
            #[cfg(feature = "pdf")]
            SetForm::Pdf => {
                let write = || NotWritten::or(sheet::pdf::write(&self.title, &self.pages));
                vec![File::new("set.pdf", write)]
            }
            SetForm::Html => {
                let write = || Ok(sheet::html::write(&self.title, &self.pages).into_bytes());
                vec![File::new("set.html", write)]
            }
            SetForm::Svg => {
                self.one_a_page("svg", |page| Ok(sheet::svg::write(&page.drawing).into_bytes()))
            }
            #[cfg(feature = "png")]
            SetForm::Png(dots) => self.one_a_page("png", move |page| {
                let picture = sheet::png::write(&page.drawing, f64::from(dots));
                NotWritten::or(picture.ok_or("lower --dots; the picture would be too large"))
            }),
        }
    }
}

/// Draws the set.
pub(super) fn find(
    input: Input,
    prices: Option<Prices>,
    asked: &SheetsAsked,
    look: &Look,
    asker: &dyn Asker,
) -> Result<Set, NoAnswer> {
    let writing = look.writing;
    let roofs = Roofs::read(vec![input])?;
    let roof = roofs.first();
    let (_, checks, used) = roof.input.plan(ChecksPlan::read)?;
    let kinds = if asked.only.is_empty() { Kind::FULL.as_slice() } else { &asked.only };
    let order = if kinds.iter().any(|kind| kind.shows_lumber()) {
        roofs.ordered(prices.as_ref(), writing.units, asker)?
    } else {
        roofs.without_lumber(prices.as_ref(), writing.units, asker)?
    };
    let name = roof.plan.gable.rafter.name.clone();
    let told = roof.input.plan(JobPlan::read)?;
    let writing = Writing { feet_inches: told.feet_inches, ..writing };
    let date = if asked.date.is_empty() { told.date.as_deref() } else { Some(asked.date.as_str()) };
    let block = TitleBlock {
        address: told.address.clone(),
        drawn: told.drawn.clone(),
        checked: told.checked.clone(),
        revisions: told.revisions.clone(),
        north_deg: told.north_deg,
    };
    let job = Job {
        name: name.clone().unwrap_or_default(),
        date: on_one_line(date.unwrap_or_default()),
        block: told.given(),
        plan_set: asked.plan_set.then_some(block),
        paper: asked.paper.unwrap_or_else(|| match asked.plan_set {
            true => Paper::of_plan_sets(writing.units),
            false => Paper::usual(writing.units),
        }),
        writing,
    };
    let title = name.filter(|name| !name.is_empty()).unwrap_or_else(|| "Roof".into());
    let drawn = Drawn { roof, used: &used, checks: &checks, order: &order, job: &job, kinds };
    let (pages, findings) = match (roof.sticks().gable, roof.sticks().hung) {
        (Some(frame), _) => drawn.of_gable(frame)?,
        (None, Some(frame)) => drawn.of_hung(frame)?,
        (None, None) => return Err(any_roof::of_gables_alone(&roof.input).into()),
    };
    if pages.is_empty() {
        let titles: Vec<&str> = kinds.iter().map(|kind| kind.title()).collect();
        let fault = Fault::new(
            Place::Flag { flag: "--only", text: titles.join(", ") },
            "this roof has no such sheet",
            "leave --only out for all the sheets that it has",
        );
        return Err(roof.input.refused(Faults::from(fault)).into());
    }
    Ok(Set { pages, title, form: asked.form, status: Status::of_findings(&findings) })
}

/// What a set is drawn from.
struct Drawn<'a> {
    roof: &'a Framing,
    used: &'a [Used],
    checks: &'a ChecksPlan,
    order: &'a Order,
    job: &'a Job,
    kinds: &'a [Kind],
}

impl Drawn<'_> {
    /// The sheets of one gable, with its findings.
    fn of_gable(&self, frame: &Frame) -> Result<(Vec<Page>, Vec<Finding>), Refused> {
        let Drawn { roof, used, checks, order, job, kinds } = *self;
        let eave = Eave::build(&roof.input.plan(EavePlan::read)?)
            .map_err(|why| roof.input.cannot_build(why))?;
        let book = Book { frame, checks };
        let findings = check::findings(&book);
        let tied = Tied::of_frame(&book);
        let laid =
            order.first().sheets.laid().ok_or_else(|| any_roof::of_gables_alone(&roof.input))?;
        let matter = Matter {
            plan: &roof.plan,
            used,
            frame,
            eave: &eave,
            book,
            findings: &findings,
            tied: &tied,
            order,
            laid,
        };
        Ok((sheet::set::pages(&matter, job, kinds), findings))
    }

    /// The sheets of any other roof, with its findings.
    fn of_hung(&self, frame: &HungFrame) -> Result<(Vec<Page>, Vec<Finding>), Refused> {
        let Drawn { roof, used, checks, order, job, kinds } = *self;
        let (_, shape, _) = any_roof::shaped(&roof.input, &roof.plan.gable)?;
        let findings = any_rules::findings(frame, checks);
        let laid = faces_deck::laid(&shape, frame, &roof.plan.deck);
        let deck = match &laid {
            Ok((ask, deck, decided)) => Ok((ask, deck, decided.as_slice())),
            Err(why) => Err(why.told()),
        };
        let matter = HungMatter {
            plan: &roof.plan,
            used,
            frame,
            code: Code { sticks: frame.sticks(), checks },
            findings: &findings,
            order,
            deck,
        };
        Ok((sheet::set::hung_pages(&matter, job, kinds), findings))
    }
}

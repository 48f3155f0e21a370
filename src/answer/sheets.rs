//! The set of drawings and lists for the site, as files.

use crate::frame::Eave;
use crate::order::Prices;
use crate::plan::text::on_one_line;
use crate::plan::{ChecksPlan, EavePlan};
use crate::rules::{Book, Tied, check};
use crate::sheet::paper::{Job, Page, Paper};
use crate::sheet::set::{Kind, Matter};
use crate::sheet::{self, Look};

use super::roofs::Roofs;
use super::{Asker, File, Found, Input, NoAnswer, NotWritten, Status, any_roof};

/// Which sheets, on what paper, written how.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetsAsked {
    /// What the set is written as.
    pub form: SetForm,
    /// The sheets; if empty, all.
    pub only: Vec<Kind>,
    /// The paper; by default the usual one of the units.
    pub paper: Option<Paper>,
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

    fn files(&self, _: &Look) -> Vec<File<'_>> {
        match self.form {
            #[cfg(feature = "pdf")]
            SetForm::Pdf => {
                let drawings = || self.pages.iter().map(|page| &page.drawing);
                let write = move || NotWritten::or(sheet::pdf::write(&self.title, drawings()));
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
    let eave = Eave::build(&roof.input.plan(EavePlan::read)?)
        .map_err(|why| roof.input.cannot_build(why))?;
    let frame = roof.gable()?;
    let book = Book { frame, checks: &checks };
    let findings = check::findings(&book);
    let tied = Tied::of_frame(&book);
    let order = roofs.ordered(prices.as_ref(), writing.units, asker)?;
    let laid = order.first().sheets.laid().ok_or_else(|| any_roof::of_gables_alone(&roof.input))?;
    let matter = Matter {
        plan: &roof.plan,
        used: &used,
        frame,
        eave: &eave,
        book,
        findings: &findings,
        tied: &tied,
        order: &order,
        laid,
    };
    let name = roof.plan.gable.rafter.name.clone();
    let job = Job {
        name: name.clone().unwrap_or_default(),
        date: on_one_line(&asked.date),
        paper: asked.paper.unwrap_or_else(|| Paper::usual(writing.units)),
        writing,
    };
    let kinds = if asked.only.is_empty() { Kind::ALL.as_slice() } else { &asked.only };
    let title = name.filter(|name| !name.is_empty()).unwrap_or_else(|| "Roof".into());
    Ok(Set {
        pages: sheet::set::pages(&matter, &job, kinds),
        title,
        form: asked.form,
        status: Status::of_findings(&findings),
    })
}

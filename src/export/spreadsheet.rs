//! Spreadsheets (Office Open XML): sheets of rows under named heads. All of them are written here.

use std::collections::HashMap;

use rust_xlsxwriter::{
    DocProperties, ExcelDateTime, Format, FormatAlign, FormatBorder, Formula, Workbook, Worksheet,
    XlsxError,
};

/// Red, green and blue behind the heads: light enough to print in black.
const HEAD_COLOR: u32 = 0x00E6_E6E6;

/// How the numbers of a column are shown. What a cell holds is never rounded.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Shown {
    /// As they are: texts and whole numbers.
    Plain,
    /// Inches, to a thousandth.
    Inches,
    /// Millimeters, to a tenth.
    Millimeters,
    /// Degrees, to a hundredth.
    Degrees,
    /// Cubic inches.
    Volume,
    /// Parts of a unit vector.
    Parts,
    /// Money.
    Money,
}

impl Shown {
    const ALL: [Shown; 7] = [
        Shown::Plain,
        Shown::Inches,
        Shown::Millimeters,
        Shown::Degrees,
        Shown::Volume,
        Shown::Parts,
        Shown::Money,
    ];

    /// The format of its numbers, as spreadsheets write it.
    fn format(self) -> &'static str {
        match self {
            Shown::Plain => "General",
            Shown::Inches => "0.000",
            Shown::Millimeters => "0.0",
            Shown::Degrees => "0.00",
            Shown::Volume => "#,##0.0",
            Shown::Parts => "0.000000",
            Shown::Money => "#,##0.00",
        }
    }
}

/// A column: its head, its width in characters, and how its numbers are shown.
pub(super) type Column = (String, f64, Shown);

/// The paper that a workbook is printed on, and what stands above every page.
#[derive(Debug, Clone)]
pub(super) struct Print {
    /// True for the paper of metric countries.
    pub(super) metric: bool,
    /// The job.
    pub(super) job: String,
}

/// The content of a cell.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Cell {
    /// An empty cell.
    Empty,
    /// Text.
    Text(String),
    /// Text that may take several lines.
    Long(String),
    /// Bold text.
    Bold(String),
    /// A number, shown as those of its column.
    Number(f64),
    /// Text in a column of money.
    NoMoney(&'static str),
    /// A formula and its result, money.
    MoneyOf(String, f64),
    /// The same for a sum, in bold.
    SumOf(String, f64),
}

impl From<&str> for Cell {
    fn from(text: &str) -> Cell {
        Cell::Text(text.to_owned())
    }
}

impl From<String> for Cell {
    fn from(text: String) -> Cell {
        Cell::Text(text)
    }
}

impl From<f64> for Cell {
    fn from(number: f64) -> Cell {
        Cell::Number(number)
    }
}

impl<T: Into<Cell>> From<Option<T>> for Cell {
    fn from(value: Option<T>) -> Cell {
        value.map_or(Cell::Empty, Into::into)
    }
}

/// Columns of these heads and widths.
pub(super) fn columns(heads: &[(&str, f64, Shown)]) -> Vec<Column> {
    heads.iter().map(|(head, width, shown)| ((*head).to_owned(), *width, *shown)).collect()
}

/// A workbook being written.
pub(super) struct Book {
    workbook: Workbook,
    print: Print,
}

/// A sheet of a workbook: rows are added below each other.
pub(super) struct Sheet<'a> {
    sheet: &'a mut Worksheet,
    row: u32,
    shown: Vec<Shown>,
    formats: Formats,
}

struct Formats {
    text: Format,
    long: Format,
    bold: Format,
    sum: Format,
    numbers: HashMap<Shown, Format>,
}

impl Formats {
    fn new() -> Formats {
        let top = || Format::new().set_align(FormatAlign::Top);
        let numbers = Shown::ALL.map(|shown| (shown, top().set_num_format(shown.format())));
        Formats {
            text: top(),
            long: top().set_text_wrap(),
            bold: top().set_bold(),
            sum: top().set_bold().set_num_format(Shown::Money.format()),
            numbers: numbers.into_iter().collect(),
        }
    }

    fn of(&self, shown: Shown) -> &Format {
        self.numbers.get(&shown).unwrap_or(&self.text)
    }
}

/// Most letters of a job's name at the head of a page: more than that and the sheet's name have no room beside each other.
const HEAD_LETTERS: usize = 60;

/// Margins of a printed page, inches: left, right, top, bottom, and from the edge to what stands above and below.
const MARGINS_IN: [f64; 6] = [0.5, 0.5, 0.75, 0.6, 0.35, 0.3];

impl Book {
    /// An empty workbook.
    pub(super) fn new(print: Print) -> Result<Book, XlsxError> {
        let mut workbook = Workbook::new();
        // the time of writing is not part of the content: equal rows give equal files
        let properties =
            DocProperties::new().set_creation_datetime(&ExcelDateTime::from_ymd(2000, 1, 1)?);
        workbook.set_properties(&properties);
        Ok(Book { workbook, print })
    }

    /// A new sheet with its heads, which stay in sight and stand on every printed page.
    pub(super) fn sheet(&mut self, name: &str, columns: &[Column]) -> Result<Sheet<'_>, XlsxError> {
        let sheet = self.workbook.add_worksheet();
        sheet.set_name(name)?;
        let head = Format::new()
            .set_bold()
            .set_text_wrap()
            .set_align(FormatAlign::Top)
            .set_background_color(HEAD_COLOR)
            .set_border_bottom(FormatBorder::Thin);
        for (column, (text, width, _)) in (0_u16..).zip(columns) {
            sheet.write_with_format(0, column, text, &head)?;
            sheet.set_column_width(column, *width)?;
        }
        sheet.set_freeze_panes(1, 0)?;
        sheet.set_repeat_rows(0, 0)?;
        sheet.set_landscape();
        // as wide as one page and as long as it gets
        sheet.set_print_fit_to_pages(1, 0);
        sheet.set_print_gridlines(true);
        const LETTER: u8 = 1;
        const A4: u8 = 9;
        sheet.set_paper_size(if self.print.metric { A4 } else { LETTER });
        let [left, right, top, bottom, above, below] = MARGINS_IN;
        sheet.set_margins(left, right, top, bottom, above, below);
        // an ampersand begins an order
        let job: String = self.print.job.chars().take(HEAD_LETTERS).collect();
        let job = job.replace('&', "&&");
        sheet.set_header(format!("&L{job}&R&A"));
        sheet.set_footer("&Rpage &P of &N");
        let shown = columns.iter().map(|(_, _, shown)| *shown).collect();
        Ok(Sheet { sheet, row: 0, shown, formats: Formats::new() })
    }

    /// The file's bytes.
    pub(super) fn finish(mut self) -> Result<Vec<u8>, XlsxError> {
        self.workbook.save_to_buffer()
    }
}

impl Sheet<'_> {
    /// The number of the next row, as formulas name it.
    pub(super) fn next_row(&self) -> u32 {
        self.row + 2
    }

    /// Leaves a row empty.
    pub(super) fn skip(&mut self) {
        self.row += 1;
    }

    /// Adds a row.
    pub(super) fn row(&mut self, cells: Vec<Cell>) -> Result<(), XlsxError> {
        self.row += 1;
        let formats = &self.formats;
        for ((column, cell), shown) in (0_u16..).zip(cells).zip(&self.shown) {
            let (row, sheet) = (self.row, &mut *self.sheet);
            match cell {
                Cell::Empty => continue,
                Cell::Text(text) => sheet.write_with_format(row, column, text, &formats.text)?,
                Cell::Long(text) => sheet.write_with_format(row, column, text, &formats.long)?,
                Cell::Bold(text) => sheet.write_with_format(row, column, text, &formats.bold)?,
                Cell::Number(number) => {
                    sheet.write_with_format(row, column, number, formats.of(*shown))?
                }
                Cell::NoMoney(text) => {
                    sheet.write_with_format(row, column, text, formats.of(Shown::Money))?
                }
                Cell::MoneyOf(formula, result) => {
                    let formula = Formula::new(formula).set_result(result.to_string());
                    let format = formats.of(Shown::Money);
                    sheet.write_formula_with_format(row, column, formula, format)?
                }
                Cell::SumOf(formula, result) => {
                    let formula = Formula::new(formula).set_result(result.to_string());
                    sheet.write_formula_with_format(row, column, formula, &formats.sum)?
                }
            };
        }
        Ok(())
    }
}

//! Spreadsheets (Office Open XML): sheets of rows under named heads. All of them are written here.

use rust_xlsxwriter::{
    DocProperties, ExcelDateTime, Format, FormatAlign, Formula, Workbook, Worksheet, XlsxError,
};

/// A column: its head, and its width in characters.
pub(super) type Column = (String, f64);

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
    /// A number, shown as the program shows numbers.
    Number(f64),
    /// Money.
    Money(f64),
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
pub(super) fn columns(heads: &[(&str, f64)]) -> Vec<Column> {
    heads.iter().map(|(head, width)| ((*head).to_owned(), *width)).collect()
}

/// A workbook being written.
pub(super) struct Book {
    workbook: Workbook,
}

/// A sheet of a workbook: rows are added below each other.
pub(super) struct Sheet<'a> {
    sheet: &'a mut Worksheet,
    row: u32,
    formats: Formats,
}

struct Formats {
    long: Format,
    bold: Format,
    money: Format,
    sum: Format,
}

impl Book {
    /// An empty workbook.
    pub(super) fn new() -> Result<Book, XlsxError> {
        let mut workbook = Workbook::new();
        // the time of writing is not part of the content: equal rows give equal files
        let properties =
            DocProperties::new().set_creation_datetime(&ExcelDateTime::from_ymd(2000, 1, 1)?);
        workbook.set_properties(&properties);
        Ok(Book { workbook })
    }

    /// A new sheet with its heads, which stay in sight.
    pub(super) fn sheet(&mut self, name: &str, columns: &[Column]) -> Result<Sheet<'_>, XlsxError> {
        let sheet = self.workbook.add_worksheet();
        sheet.set_name(name)?;
        let head = Format::new().set_bold().set_text_wrap();
        for (column, (text, width)) in (0_u16..).zip(columns) {
            sheet.write_with_format(0, column, text, &head)?;
            sheet.set_column_width(column, *width)?;
        }
        sheet.set_freeze_panes(1, 0)?;
        const MONEY: &str = "#,##0.00";
        Ok(Sheet {
            sheet,
            row: 0,
            formats: Formats {
                long: Format::new().set_text_wrap().set_align(FormatAlign::Top),
                bold: Format::new().set_bold(),
                money: Format::new().set_num_format(MONEY),
                sum: Format::new().set_bold().set_num_format(MONEY),
            },
        })
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
        for (column, cell) in (0_u16..).zip(cells) {
            let (row, sheet) = (self.row, &mut *self.sheet);
            match cell {
                Cell::Empty => continue,
                Cell::Text(text) => sheet.write(row, column, text)?,
                Cell::Long(text) => sheet.write_with_format(row, column, text, &formats.long)?,
                Cell::Bold(text) => sheet.write_with_format(row, column, text, &formats.bold)?,
                Cell::Number(number) => sheet.write(row, column, number)?,
                Cell::Money(money) => {
                    sheet.write_with_format(row, column, money, &formats.money)?
                }
                Cell::NoMoney(text) => {
                    sheet.write_with_format(row, column, text, &formats.money)?
                }
                Cell::MoneyOf(formula, result) => {
                    let formula = Formula::new(formula).set_result(result.to_string());
                    sheet.write_formula_with_format(row, column, formula, &formats.money)?
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

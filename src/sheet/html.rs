//! A set of pages as one HTML file: vectors and typeface included, nothing to download.

use super::paper::Page;
use super::svg::{self, Typeface};
use super::typeface::Weight;

/// The style of the file on a screen and on paper. On a narrow screen a page keeps a readable width and
/// scrolls sideways.
const STYLE: &str = "body{margin:0;background:#eceae4;color:#111;font:16px/1.5 system-ui,sans-serif}\
header,nav{max-width:60rem;margin:0 auto;padding:1rem}\
nav ul{columns:18rem;margin:0;padding-left:1.5rem}\
nav a{color:inherit}\
section{margin:0 auto 1.5rem;max-width:75rem}\
section h2{font-size:1rem;margin:0 1rem .3rem}\
.page{overflow-x:auto;background:#fff;box-shadow:0 1px 4px #0003}\
.page svg{display:block;width:100%;min-width:46rem;height:auto}\
@media print{body{background:#fff}header,nav,section h2{display:none}\
section{margin:0;max-width:none;break-after:page}\
.page{overflow:visible;box-shadow:none}\
.page svg{width:auto;min-width:0;height:auto;max-width:none}}";

/// The pages as one complete HTML file. The same pages give the same bytes.
#[must_use]
pub fn write(title: &str, pages: &[Page]) -> String {
    let links = links(pages);
    let mut sections = String::new();
    let mut papers: Vec<(String, String)> = Vec::new();
    for (index, page) in pages.iter().enumerate() {
        let number = index + 1;
        let name = escaped(&page.title);
        let paper = paper_name(page, &mut papers);
        let drawing = svg::write_with(&page.drawing, Typeface::Named);
        sections.push_str(&format!(
            "<section id=\"page-{number}\" style=\"page:{paper}\"><h2>{number}. {name}</h2>\n<div class=\"page\">{drawing}</div></section>\n"
        ));
    }
    let sizes: String =
        papers.iter().map(|(name, size)| format!("@page {name}{{size:{size};margin:0}}")).collect();
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">\n\
         <title>{title}</title>\n<style>{faces}{STYLE}{sizes}</style>\n</head>\n<body>\n\
         <header><h1>{title}</h1></header>\n<nav><ul>\n{links}</ul></nav>\n<main>\n{sections}</main>\n</body>\n</html>\n",
        title = escaped(title),
        faces = svg::font_faces(&[Weight::Regular, Weight::Bold]),
    )
}

/// The list of sheets; consecutive pages with one title are one entry.
fn links(pages: &[Page]) -> String {
    let mut text = String::new();
    let mut first = 0;
    while let Some(page) = pages.get(first) {
        let same = |other: &&Page| other.title == page.title;
        let last = first + pages[first..].iter().take_while(same).count();
        let range = if last == first + 1 {
            format!("page {last}")
        } else {
            format!("pages {} to {last}", first + 1)
        };
        let name = escaped(&page.title);
        text.push_str(&format!("<li><a href=\"#page-{}\">{name}</a>, {range}</li>\n", first + 1));
        first = last;
    }
    text
}

/// The name of a page's paper in the style, with its size.
fn paper_name(page: &Page, papers: &mut Vec<(String, String)>) -> String {
    let size = format!("{:.4}in {:.4}in", page.drawing.width, page.drawing.height);
    if let Some((name, _)) = papers.iter().find(|(_, known)| *known == size) {
        return name.clone();
    }
    let name = format!("paper-{}", papers.len() + 1);
    papers.push((name.clone(), size));
    name
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::DVec2;
    use crate::sheet::{Anchor, Drawing};

    #[test]
    fn a_file_fetches_nothing_and_escapes_names() {
        let mut drawing = Drawing::new(8.5, 11.0);
        drawing.text(DVec2::ONE, "5 < 6", 0.1, Anchor::Start);
        let page = Page::drawn("A & <b>", drawing);
        let text = write("Job <script>", &[page.clone(), page]);
        assert_eq!(text.matches("<li>").count(), 1);
        assert!(text.contains("pages 1 to 2"));
        assert!(text.contains("A &amp; &lt;b&gt;") && text.contains("5 &lt; 6"));
        assert!(!text.contains("<script") && !text.contains("src=\"http"));
        assert_eq!(text.matches("@page paper-").count(), 1);
    }
}

//! A page of headings, paragraphs, lists, tables and pictures, written as text and as HTML.

use lookwright_table::escaped;

/// A piece of a page.
pub(super) enum Block {
    Text(String),
    /// Numbered.
    Steps(Vec<String>),
    Table {
        head: Vec<&'static str>,
        rows: Vec<Vec<String>>,
    },
    /// Path and words below it.
    Pictures(Vec<(String, String)>),
}

pub(super) struct Document {
    pub(super) title: String,
    pub(super) parts: Vec<(&'static str, Vec<Block>)>,
}

const WIDTH: usize = 92;

impl Document {
    pub(super) fn to_text(&self) -> String {
        let mut out = format!(
            "{}\n{}\n",
            self.title,
            "=".repeat(self.title.chars().count())
        );
        for (heading, blocks) in &self.parts {
            out.push_str(&format!("\n{heading}\n{}\n", "-".repeat(heading.len())));
            for block in blocks {
                out.push('\n');
                match block {
                    Block::Text(words) => out.push_str(&wrapped(words, "", "")),
                    Block::Steps(steps) => {
                        for (i, step) in steps.iter().enumerate() {
                            out.push_str(&wrapped(step, &format!("{}. ", i + 1), "   "));
                        }
                    }
                    Block::Table { head, rows } => out.push_str(&text_table(head, rows)),
                    Block::Pictures(pictures) => {
                        for (path, words) in pictures {
                            out.push_str(&format!("{path}: {words}\n"));
                        }
                    }
                }
            }
        }
        out
    }

    pub(super) fn to_html(&self) -> String {
        let title = escaped(&self.title);
        let mut out = format!(
            "<!doctype html>\n<html lang=\"en\">\n<meta charset=\"utf-8\">\n\
             <meta name=\"viewport\" content=\"width=device-width\">\n\
             <title>{title}</title>\n<style>{STYLE}</style>\n<h1>{title}</h1>\n"
        );
        for (heading, blocks) in &self.parts {
            out.push_str(&format!("<h2>{}</h2>\n", escaped(heading)));
            for block in blocks {
                match block {
                    Block::Text(words) => out.push_str(&format!("<p>{}</p>\n", escaped(words))),
                    Block::Steps(steps) => {
                        out.push_str("<ol>\n");
                        for step in steps {
                            out.push_str(&format!("<li>{}</li>\n", escaped(step)));
                        }
                        out.push_str("</ol>\n");
                    }
                    Block::Table { head, rows } => out.push_str(&html_table(head, rows)),
                    Block::Pictures(pictures) => {
                        out.push_str("<div class=\"sheet\">\n");
                        for (path, words) in pictures {
                            let (path, words) = (escaped(path), escaped(words));
                            out.push_str(&format!(
                                "<figure><a href=\"{path}\"><img loading=\"lazy\" src=\"{path}\" \
                                 alt=\"{words}\"></a><figcaption>{words}</figcaption></figure>\n"
                            ));
                        }
                        out.push_str("</div>\n");
                    }
                }
            }
        }
        out.push_str("</html>\n");
        out
    }
}

const STYLE: &str = "body{font:15px/1.5 system-ui,sans-serif;max-width:70rem;margin:2rem auto;\
padding:0 1rem;background:#777;color:#000}a{color:inherit}h1,h2{line-height:1.2}h2{margin-top:2rem}\
.wide{overflow-x:auto}table{border-collapse:collapse;font-variant-numeric:tabular-nums}\
th,td{text-align:left;vertical-align:top;padding:.2rem .8rem .2rem 0;\
border-bottom:1px solid #444}td{overflow-wrap:anywhere}.sheet{display:grid;gap:1rem;\
grid-template-columns:repeat(auto-fit,minmax(min(26rem,100%),1fr))}figure{margin:0}img{width:100%}";

fn html_table(head: &[&str], rows: &[Vec<String>]) -> String {
    let mut out = String::from("<div class=\"wide\"><table>\n<tr>");
    for cell in head {
        out.push_str(&format!("<th>{}</th>", escaped(cell)));
    }
    out.push_str("</tr>\n");
    for row in rows {
        out.push_str("<tr>");
        for cell in row {
            out.push_str(&format!("<td>{}</td>", escaped(cell)));
        }
        out.push_str("</tr>\n");
    }
    out.push_str("</table></div>\n");
    out
}

fn text_table(head: &[&str], rows: &[Vec<String>]) -> String {
    let head: Vec<String> = head.iter().map(|cell| (*cell).to_owned()).collect();
    let lines = || core::iter::once(&head).chain(rows);
    let width = |column: usize| {
        let cells = lines().filter_map(|row| row.get(column));
        cells.map(|cell| cell.chars().count()).max().unwrap_or(0)
    };
    let widths: Vec<usize> = (0..head.len()).map(width).collect();
    let mut out = String::new();
    for row in lines() {
        let mut line = String::new();
        for (cell, width) in row.iter().zip(&widths) {
            line.push_str(&format!("{cell:<width$}  "));
        }
        out.push_str(line.trim_end());
        out.push('\n');
    }
    out
}

/// Words broken into lines.
fn wrapped(words: &str, first: &str, next: &str) -> String {
    let (mut out, mut line) = (String::new(), first.to_owned());
    let mut begun = false;
    for word in words.split_whitespace() {
        if begun && line.chars().count() + 1 + word.chars().count() > WIDTH {
            out.push_str(&line);
            out.push('\n');
            line = next.to_owned();
            begun = false;
        }
        if begun {
            line.push(' ');
        }
        line.push_str(word);
        begun = true;
    }
    out + &line + "\n"
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_of_a_person_stay_words() {
        let page = Document {
            title: "<script>alert(1)</script>".to_owned(),
            parts: vec![("Part", vec![Block::Text("a & \"b\"".to_owned())])],
        };
        let html = page.to_html();
        assert!(!html.contains("<script>") && html.contains("a &amp; &quot;b&quot;"));
        assert!(page.to_text().contains("Part\n----\n\na & \"b\"\n"));
    }

    #[test]
    fn long_words_are_wrapped() {
        let text = wrapped(&"word ".repeat(50), "1. ", "   ");
        assert!(text.lines().count() > 2 && text.lines().all(|l| l.len() <= WIDTH));
        assert!(text.lines().nth(1).unwrap().starts_with("   word"));
    }
}

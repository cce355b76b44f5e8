//! Stamped pages are the pages that Typst sets. In: sheets, keys and grids of every experiment. Out: pass, or the first text that differs.
//!
//! The outside source is Typst itself, which sets the same leaves once more with every digit in its place.

use labquire::{
    class::{Edition, Roster, Student},
    compose::{self, View},
    experiment::{self, catalogue},
    language::Language,
    press::{Documents, Leaf, Paper, Press},
    set::{Member, Own, SetPlan},
};
use rayon::prelude::*;
use typst::{
    introspection::Tag,
    layout::{Frame, FrameItem, Point},
    math::EquationElem,
    model::FigureElem,
    text::FontInstance,
};

/// A glyph where it stands, pt from the left and upper edge.
struct Placed {
    font: FontInstance,
    glyph: u16,
    sign: String,
    at: (f64, f64),
    size: f64,
    fill: String,
}

/// What a page shows and what is spoken in place of it.
#[derive(Default)]
struct Seen {
    glyphs: Vec<Placed>,
    spoken: Vec<String>,
}

fn look(frame: &Frame, origin: Point, seen: &mut Seen) {
    for (at, item) in frame.items() {
        let at = origin + *at;
        match item {
            FrameItem::Group(group) => {
                let shift = Point::new(group.transform.tx, group.transform.ty);
                look(&group.frame, at + shift, seen);
            }
            FrameItem::Text(text) => {
                let mut x = at.x.to_pt();
                for glyph in &text.glyphs {
                    seen.glyphs.push(Placed {
                        font: text.font.clone(),
                        glyph: glyph.id,
                        sign: text.text[glyph.range()].to_owned(),
                        at: (x + glyph.x_offset.at(text.size).to_pt(), at.y.to_pt()),
                        size: text.size.to_pt(),
                        fill: format!("{:?}", text.fill),
                    });
                    x += glyph.x_advance.at(text.size).to_pt();
                }
            }
            FrameItem::Tag(Tag::Start(element, _)) => {
                let equation = element.to_packed::<EquationElem>().and_then(|one| one.alt.as_option().clone());
                let figure = element.to_packed::<FigureElem>().and_then(|one| one.alt.as_option().clone());
                seen.spoken.extend(equation.or(figure).flatten().map(String::from));
            }
            _ => {}
        }
    }
}

/// Students in each edition, so that the second one of an edition meets what the first left behind.
fn drawn<T>(id: &str, code: &str, made: impl FnOnce(&SetPlan<'_>, &[Member<'_>], &Documents) -> T) -> T {
    let (experiment, _) = experiment::load(&catalogue::find(id).expect("built in")).expect("sound");
    let editions = [Edition::Support, Edition::Core, Edition::Extension];
    let student = |number: usize| Student {
        id: number.to_string(),
        name: format!("Student {number}"),
        edition: Some(editions[number % 3]),
        seat: None,
        group: None,
        lang: None,
        large: number == 5,
    };
    let roster = Roster { name: "9b".into(), students: (0..6).map(student).collect() };
    let plan = SetPlan::new(&experiment, &roster, "stamps", Language::find(code).expect("a language"));
    let members = plan.draft(|_, _| true).map_err(|_| "refused").expect("drawn").members;
    made(&plan, &members, &Documents::new().expect("templates"))
}

/// Their sheets and keys.
pub(crate) fn leaves(id: &str, code: &str) -> Vec<Leaf> {
    drawn(id, code, |plan, members, documents| {
        let leaf = |(member, view): (&Member<'_>, View)| {
            let sheet = compose::sheet(&plan.facts(&member.own(), plan.language), plan.labels(member), view);
            match view {
                View::Worksheet => documents.worksheet("Stamps", &sheet, Paper::A4),
                View::Key => documents.key("Stamps", &sheet, Paper::A4),
            }
            .expect("a source")
        };
        let both = members.iter().flat_map(|member| [(member, View::Worksheet), (member, View::Key)]);
        both.map(leaf).collect()
    })
}

/// Their marking grid.
fn grid(id: &str, code: &str) -> Leaf {
    drawn(id, code, |plan, members, documents| {
        let owns: Vec<Own> = members.iter().map(Member::own).collect();
        let facts = owns.iter().map(|own| plan.facts(own, plan.language));
        let rows: Vec<_> = facts.zip(members.iter().map(|member| plan.labels(member))).collect();
        documents.grid(&compose::grid(plan.experiment, "9b", plan.language, &rows), Paper::A4).expect("a source")
    })
}

#[test]
fn stamped_pages_are_those_that_typst_sets() {
    let ids = catalogue::ids();
    let stamped: usize = ids
        .par_iter()
        .enumerate()
        .map(|(place, id)| {
            let code = ["en", "de", "fr", "es"][place % 4];
            let mut leaves = leaves(id, code);
            leaves.push(grid(id, code));
            let seen = |press: Press<'_>| -> Vec<Seen> {
                let document = press.document(leaves.clone()).expect("set");
                let page = |page: &typst_layout::Page| {
                    let mut seen = Seen::default();
                    look(&page.frame, Point::zero(), &mut seen);
                    // Pieces of a line may come in another order.
                    seen.glyphs.sort_by(|one, other| {
                        let key = |placed: &Placed| ((placed.at.0 * 10.0).round(), (placed.at.1 / 3.0).round());
                        let (one_at, other_at) = (key(one), key(other));
                        one_at.partial_cmp(&other_at).expect("numbers").then(one.glyph.cmp(&other.glyph))
                    });
                    seen
                };
                document.pages().iter().map(page).collect()
            };
            let (own, outright) = (seen(Press::new()), seen(Press::new().outright()));
            assert_eq!(own.len(), outright.len(), "{id}: pages");
            for (number, (own, outright)) in own.iter().zip(&outright).enumerate() {
                assert_eq!(own.spoken, outright.spoken, "{id}, page {}", number + 1);
                assert_eq!(own.glyphs.len(), outright.glyphs.len(), "{id}, page {}: glyphs", number + 1);
                for (one, other) in own.glyphs.iter().zip(&outright.glyphs) {
                    let off = ((one.at.0 - other.at.0).abs(), (one.at.1 - other.at.1).abs());
                    let same = one.font == other.font
                        && (one.glyph, &one.sign, &one.fill) == (other.glyph, &other.sign, &other.fill)
                        && one.size == other.size;
                    // Digits of the slanted face differ in width by a thousandth of their size.
                    assert!(
                        same && off.0 < 0.03 && off.1 < 0.001,
                        "{id}, page {}: `{}` at {:?} in place of `{}` at {:?}, {off:?} pt apart",
                        number + 1,
                        one.sign,
                        one.at,
                        other.sign,
                        other.at
                    );
                }
            }
            own.iter().flat_map(|page| &page.glyphs).filter(|placed| placed.sign.contains(char::is_numeric)).count()
        })
        .sum();
    assert!(stamped > 10_000, "only {stamped} digits were compared");
}

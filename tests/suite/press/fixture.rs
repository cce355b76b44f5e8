//! A sheet, a key, a grid and notes such as a heating experiment gives. In: a name, a language, a size. Out: pages as
//! data. The readings follow an exponential approach; nothing here is checked physics.

mod front;
mod others;

use front::front;
use labquire::{
    graph::{GraphPaper, Scale},
    language::Language,
    sheet::{
        AnswerSpace, Axis, Block, Cell, Frame, Graph, GuideLine, Label, MarkPoint, Math, Rich, Run, Series, Sheet,
        Side, Solution, Table, Task,
    },
};
pub(crate) use others::{grid, teacher};

const START: f64 = 20.4;
const RISE: f64 = 33.1;
const LIMIT: f64 = START + RISE;
const TAU_MINUTES: f64 = 18.0;

fn temperature(minutes: f64) -> f64 {
    START + RISE * (1.0 - libm::exp(-minutes / TAU_MINUTES))
}

fn minutes() -> impl Iterator<Item = u32> {
    (0..=60).step_by(4)
}

/// The fixed words of a language.
fn words(lang: &str) -> &'static Language {
    Language::find(lang).expect("a shipped language")
}

fn pick(lang: &str, english: &str, german: &str) -> String {
    if lang == "de" { german } else { english }.to_owned()
}

fn number(lang: &str, value: f64) -> String {
    format!("{value:.1}").replace('.', if lang == "de" { "," } else { "." })
}

fn text(text: &str) -> Rich {
    vec![Run::Text(text.to_owned())]
}

/// A symbol of quantity calculus over its unit, such as `T / °C`.
fn head(symbol: &str, spoken: &str, unit: &str) -> Rich {
    vec![Math::new(symbol, spoken).into(), Run::Text(format!("\u{A0}/\u{A0}{unit}"))]
}

pub(crate) fn graph(lang: &str, large: bool, frame: Frame, solved: bool) -> Graph {
    let GraphPaper { width_mm: width, height_mm: height, .. } = GraphPaper::of(large);
    let x = Scale::choose(0.0, 60.0, width, true).expect("a range");
    let y = Scale::choose(START, LIMIT, height, false).expect("a range");
    let place = |t: f64| (x.position(t), y.position(temperature(t)));
    let every = if large { 20 } else { 10 };
    let ticks =
        |scale: Scale| scale.ticks(every).into_iter().map(|(at, text)| (at, text.replace('-', "\u{2212}"))).collect();
    let level = y.position(LIMIT);
    Graph {
        width_mm: width,
        height_mm: height,
        x: Axis { title: head("t", "t", "min"), ticks: ticks(x) },
        y: Axis { title: head("T", "T", "°C"), ticks: ticks(y) },
        frame,
        series: if solved {
            vec![Series {
                points: minutes().map(|t| place(f64::from(t))).collect(),
                curve: (0..=120).map(|half| place(f64::from(half) / 2.0)).collect(),
                dashed: false,
                label: None,
            }]
        } else {
            Vec::new()
        },
        lines: if solved {
            vec![GuideLine { from: (0.0, level), to: (f64::from(x.length_mm()), level), dashed: true }]
        } else {
            Vec::new()
        },
        notes: if solved {
            vec![Label {
                at: (f64::from(x.length_mm()), level + 4.0),
                side: Side::Left,
                text: Math::new(format!("T_\"lim\" = \"{} °C\"", number(lang, LIMIT)), "T lim equals 53.5 degrees"),
            }]
        } else {
            Vec::new()
        },
        alt: pick(lang, "Graph paper for temperature against time.", "Millimeterpapier für Temperatur gegen Zeit."),
    }
}

fn table(lang: &str, solved: bool) -> Block {
    let rows = minutes()
        .map(|t| {
            let value = temperature(f64::from(t));
            let rise = number(lang, value - START);
            let rise = if solved || t == 0 { Cell::Filled(rise) } else { Cell::Empty };
            vec![Cell::Text(t.to_string()), Cell::Text(number(lang, value)), rise]
        })
        .collect();
    let heads = vec![head("t", "t", "min"), head("T", "T", "°C"), head("Delta T", "delta T", "K")];
    Block::Table(Table { heads, rows, notes: Vec::new() })
}

fn number_task(lang: &str, place: usize, solved: bool) -> Task {
    let symbols = ["Delta T_12", "Q", "P_\"use\"", "P_\"in\"", "eta", "T_\"lim\"", "K", "P_\"pump\""];
    let units = ["K", "kJ", "W", "W", "%", "°C", "W/K", "W"];
    let symbol = Math::new(symbols[place], "the quantity asked for");
    let working = vec![
        Math::new(format!("{} = m c Delta T", symbols[place]), "the quantity equals m times c times delta T"),
        Math::new(
            format!("{} = \"0.152 kg\" dot \"4.18 kJ/(kg·K)\" dot \"16.1 K\" = \"10.2 kJ\"", symbols[place]),
            "the quantity equals 0.152 kilograms times 4.18 times 16.1 kelvin equals 10.2 kilojoules",
        ),
    ];
    let hint = pick(
        lang,
        "A watt is a joule per second. Turn minutes into seconds first.",
        "Ein Watt ist ein Joule pro Sekunde. Rechne die Minuten zuerst in Sekunden um.",
    );
    let mut ask = text(&pick(lang, "How large is the quantity ", "Wie groß ist die Größe "));
    ask.push(symbol.clone().into());
    ask.extend(text(&pick(
        lang,
        " that follows from the first twelve minutes?",
        ", die aus den ersten zwölf Minuten folgt?",
    )));
    Task {
        number: (place + 3).to_string(),
        id: format!("number_{place}"),
        ask,
        hint: (place == 2).then(|| text(&hint)),
        marks: 3,
        space: AnswerSpace::NumberLine { symbol, unit: units[place].to_owned(), room_mm: 22 },
        solution: solved.then(|| Solution {
            lines: working,
            result: format!("{} {}", number(lang, 10.2), units[place]),
            accept: Some(format!("{} … {} {}", number(lang, 10.0), number(lang, 10.4), units[place])),
            points: [("relation", 1), ("number", 1), ("unit", 1)]
                .map(|(text, marks)| MarkPoint { text: text.into(), marks })
                .into(),
            ..Solution::default()
        }),
    }
}

fn tasks(lang: &str, large: bool, solved: bool) -> Vec<Block> {
    let ticks = vec![
        pick(lang, "axes with quantity and unit", "Achsen mit Größe und Einheit"),
        pick(
            lang,
            "easy scale that uses more than half of the paper",
            "einfacher Maßstab, der mehr als die Hälfte nutzt",
        ),
        pick(lang, "points within half a small square", "Punkte auf ein halbes Kästchen genau"),
    ];
    let model = pick(
        lang,
        "The plate takes up the same power all the time. The warmer it is, the more heat is lost to the room.",
        "Die Platte nimmt immer die gleiche Leistung auf. Je wärmer sie ist, desto mehr Wärme geht an den Raum verloren.",
    );
    let points = || ticks.iter().map(|text| MarkPoint { text: text.clone(), marks: 1 }).collect::<Vec<_>>();
    let mut tasks = vec![
        Task {
            number: "1".into(),
            id: "rise_column".into(),
            ask: text(&pick(
                lang,
                "Complete the column of the temperature rise.",
                "Ergänze die Spalte mit dem Temperaturanstieg.",
            )),
            hint: None,
            marks: 2,
            space: AnswerSpace::None,
            solution: solved.then(|| Solution { notes: vec![text("see the table")], ..Solution::default() }),
        },
        Task {
            number: "2".into(),
            id: "curve".into(),
            ask: text(&pick(
                lang,
                "Plot the temperature of the water against the time. Draw a smooth curve.",
                "Trage die Temperatur des Wassers gegen die Zeit auf. Zeichne eine glatte Kurve.",
            )),
            hint: None,
            marks: 3,
            space: AnswerSpace::Graph {
                graph: Box::new(graph(lang, large, Frame::Labelled, solved)),
                ticks: ticks.clone(),
            },
            solution: solved.then(|| Solution { points: points(), ..Solution::default() }),
        },
    ];
    tasks.extend((0..8).map(|place| number_task(lang, place, solved)));
    tasks.push(Task {
        number: "11".into(),
        id: "flattening".into(),
        ask: text(&pick(lang, "Explain why the curve gets flatter.", "Erkläre, warum die Kurve flacher wird.")),
        hint: None,
        marks: 3,
        space: AnswerSpace::Lines { count: 5 },
        solution: solved.then(|| Solution { model: Some(text(&model)), points: points(), ..Solution::default() }),
    });
    tasks.into_iter().map(|task| Block::Task(Box::new(task))).collect()
}

/// A sheet, or its key.
pub(crate) fn sheet(name: Option<&str>, lang: &str, large: bool, solved: bool) -> Sheet {
    let mut blocks = if solved { Vec::new() } else { front(lang) };
    blocks.push(table(lang, solved));
    blocks.extend(tasks(lang, large && !solved, solved));
    Sheet {
        lang: lang.to_owned(),
        region: None,
        large,
        title: pick(lang, "Heating water with light", "Wasser mit Licht erwärmen"),
        student: name.map(str::to_owned),
        class: "9b".into(),
        date: None,
        tag: "K7Q2-M9".into(),
        code: Some("K7Q2-M9".into()),
        version: None,
        edition_word: words(lang).word("edition-core").to_owned(),
        blocks,
    }
}

//! `simulate`: the bench alone. In: settings and a seed. Out: true states, readings, energy ledger, as JSON or csv.

use serde_json::{Map, Value, json};

use super::{
    Console, Stop,
    args::{self, FormatWord},
    load,
};
use crate::{
    bench::{BenchError, Run, Settings},
    draw::Seed,
    experiment::Experiment,
    fit::BenchFile,
    quantity::{Quantity, Unit, familiar, rounding},
    report::{Problem, nearest},
    variant,
};

pub(super) fn run(args: &args::Simulate, console: &mut Console<'_>) -> Result<(), Stop> {
    let mut experiment = load::experiment(&args.experiment, console)?;
    if let Some(path) = &args.bench {
        BenchFile::read(path)?.apply(&mut experiment)?;
    }
    let set = args.seed.clone().unwrap_or_else(|| experiment.definition.id.clone());
    let seed = Seed { set: &set, student: "", attempt: 0 };
    let settings = settings(&experiment, &seed, &args.set)?;
    let run = experiment.bench.run(&settings, &variant::schedule_of(&experiment)).map_err(refused)?;
    let table = variant::readings_of(&experiment, &run, &seed, args.exact);
    match args.format {
        FormatWord::Json => console.print(&format!("{:#}\n", document(&experiment, &settings, &run, &table))),
        FormatWord::Csv => console.print(&csv(&experiment, &run, &table)),
    }
    Ok(())
}

fn refused(error: BenchError) -> Stop {
    let problem = Problem::error(format!("the bench refuses these settings: {error}"));
    Stop::from(problem.hint("set other values with `--set NAME=QUANTITY`; `labquire show` lists the usual ranges"))
}

/// Drawn settings, overridden by what the user sets; all faults at once.
fn settings(experiment: &Experiment, seed: &Seed<'_>, overrides: &[String]) -> Result<Settings, Stop> {
    let drawn = variant::drawn_of(experiment, seed);
    let mut settings = variant::settings_of(experiment, &drawn).map_err(refused)?;
    let mut problems = Vec::new();
    for text in overrides {
        if let Err(problem) = set_one(experiment, &mut settings, text) {
            problems.push(problem);
        }
    }
    if problems.is_empty() { Ok(settings) } else { Err(Stop::Input(problems)) }
}

fn set_one(experiment: &Experiment, settings: &mut Settings, text: &str) -> Result<(), Problem> {
    let (name, value) = text.split_once('=').ok_or_else(|| {
        Problem::error(format!("`{text}` sets nothing"))
            .hint("write `--set NAME=QUANTITY`, such as `--set water_mass='120 g'`")
    })?;
    let quantity: Quantity = value.parse().map_err(|error: crate::quantity::QuantityError| {
        let problem = Problem::error(format!("`{name}`: {}", error.message));
        Problem { hint: error.hint, ..problem }
    })?;
    let drawn = experiment.drawn.iter().find(|drawn| drawn.id == name).map(|drawn| drawn.input.name.as_str());
    let given = experiment.given.iter().find(|given| given.id == name).and_then(|given| given.input.as_ref());
    let input_name = drawn.or(given.map(|input| input.name.as_str())).unwrap_or(name);
    let inputs = experiment.bench.inputs();
    let Some(input) = inputs.iter().find(|input| input.name == input_name) else {
        let known: Vec<&str> = inputs.iter().map(|input| input.name).collect();
        let problem = Problem::error(format!("the bench has no input `{name}`"));
        return Err(match nearest(name, known.iter().copied()) {
            Some(near) => problem.hint(format!("did you mean `{near}`?")),
            None => problem.hint(format!("inputs: {}", known.join(", "))),
        });
    };
    let fits = Unit::parse(input.unit)
        .ok()
        .filter(|unit| unit.dimension() == quantity.dimension() && unit.kind() == quantity.unit.kind());
    let Some(unit) = fits else {
        return Err(Problem::error(format!("`{name}` is set to {}", familiar(quantity.dimension())))
            .hint(format!("write it in a unit like `{}`", input.unit)));
    };
    settings.set(input_name, unit.from_si(quantity.si())).map_err(|error| Problem::error(error.to_string()))
}

fn document(experiment: &Experiment, settings: &Settings, run: &Run, table: &crate::readings::Table) -> Value {
    let bench = experiment.bench;
    let parameters: Map<String, Value> = bench
        .inputs()
        .iter()
        .map(|input| (input.name.to_owned(), json!({ "value": settings.get(input.name), "unit": input.unit })))
        .collect();
    let variable = bench.variable();
    let at = variant::schedule_of(experiment);
    let mut columns = vec![json!({ "id": variable.id, "unit": variable.unit })];
    columns.extend(bench.states().iter().map(|state| json!({ "id": state.id, "unit": state.unit })));
    let rows: Vec<Vec<f64>> = at
        .iter()
        .enumerate()
        .map(|(row, &at)| std::iter::once(at).chain(run.columns.iter().map(|column| column[row])).collect())
        .collect();
    let reading_columns: Vec<Value> = table
        .columns
        .iter()
        .map(|column| json!({ "id": column.id, "unit": experiment.column_unit(&column.id).map(Unit::print) }))
        .collect();
    let reading_rows: Vec<Vec<&str>> = (0..table.rows()).map(|row| table.row(row).collect()).collect();
    let mut document = json!({
        "parameters": parameters,
        "states": { "columns": columns, "rows": rows },
        "readings": { "columns": reading_columns, "rows": reading_rows },
        "limits": run.limits.iter().map(|limit| (limit.state.to_owned(), json!(limit.value))).collect::<Map<_, _>>(),
    });
    if let Some(energy) = &run.energy {
        document["energy_balance"] = json!({
            "supplied_J": energy.supplied, "stored_J": energy.stored,
            "lost_J": energy.lost, "residual_J": energy.residual(),
        });
    }
    document
}

/// True states and readings side by side, a row a time.
fn csv(experiment: &Experiment, run: &Run, table: &crate::readings::Table) -> String {
    let variable = experiment.bench.variable();
    let heads = std::iter::once(format!("{} / {}", variable.id, variable.unit))
        .chain(experiment.bench.states().iter().map(|state| format!("{} / {}", state.id, state.unit)))
        .chain(table.columns.iter().map(|column| format!("read {}", column.id)));
    let mut text = heads.collect::<Vec<_>>().join(",");
    text.push('\n');
    for (row, at) in variant::schedule_of(experiment).into_iter().enumerate() {
        let cells = std::iter::once(rounding::plain(at))
            .chain(run.columns.iter().map(|column| rounding::plain(column[row])))
            .chain(table.row(row).map(str::to_owned));
        text.push_str(&cells.collect::<Vec<_>>().join(","));
        text.push('\n');
    }
    text
}

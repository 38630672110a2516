//! Times of the stages.
#![allow(clippy::print_stdout)]
use parge_benches::stages::Site;
use std::time::Instant;
fn t<T>(name: &str, n: usize, f: impl FnOnce() -> T) -> T {
    let s = Instant::now();
    let made = f();
    let e = s.elapsed();
    let hwm = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let hwm = hwm
        .lines()
        .find(|l| l.starts_with("VmHWM"))
        .unwrap_or("")
        .to_owned();
    println!(
        "{name:12} {:9.2} ms {:8.0} ns/face {hwm}",
        e.as_secs_f64() * 1e3,
        e.as_nanos() as f64 / n as f64
    );
    made
}
fn main() {
    let word = std::env::args().nth(1).unwrap_or_default();
    if word == "only" {
        let n: usize = std::env::args()
            .nth(3)
            .and_then(|w| w.parse().ok())
            .unwrap_or(10000);
        let times: usize = std::env::args()
            .nth(4)
            .and_then(|w| w.parse().ok())
            .unwrap_or(5);
        let site = Site::of(n).unwrap();
        let stage = std::env::args().nth(2).unwrap();
        for _ in 0..times {
            match stage.as_str() {
                "parse" => drop(t("parse", n, || site.parse()).unwrap()),
                "measure" => {
                    let plan = site.parse().unwrap();
                    drop(t("measure", n, || site.measure(&plan)).unwrap())
                }
                "takeoff" => {
                    let plan = site.parse().unwrap();
                    let m = site.measure(&plan).unwrap();
                    drop(t("take off", n, || site.take_off(m)).unwrap())
                }
                "workbook" => {
                    let e = site.estimate().unwrap();
                    drop(
                        t("workbook", n, || {
                            parge_sheets::workbook(&e, &site.sources, &[])
                        })
                        .unwrap(),
                    )
                }
                _ => {}
            }
        }
        return;
    }
    for n in std::env::args()
        .skip(1)
        .filter_map(|w| w.parse::<usize>().ok())
    {
        println!("{n}");
        let site = t("load", n, || Site::of(n)).unwrap();
        let plan = t("parse", n, || site.parse()).unwrap();
        let measured = t("measure", n, || site.measure(&plan)).unwrap();
        let takeoff = t("take off", n, || site.take_off(measured)).unwrap();
        let estimate = t("price", n, || site.price(takeoff)).unwrap();
        println!("nodes {}", estimate.takeoff.measured.job.tape.len());
        t("drop plan", n, || drop(plan));
        if n <= 100000 {
            let j = t("json", n, || {
                parge_sheets::json(&estimate, &site.sources, &[])
            });
            println!("{}", j.len());
            let w = t("workbook", n, || {
                parge_sheets::workbook(&estimate, &site.sources, &[])
            })
            .unwrap();
            println!("{}", w.len());
        }
        t("drop", n, || drop(estimate));
    }
}

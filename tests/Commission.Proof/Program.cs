using Commission.Practice.Populations;
using Commission.Proof.Charts;
using Commission.Proof.Digits;
using Commission.Proof.Durability;
using Commission.Proof.Efficiency;
using Commission.Proof.Faults;
using Commission.Proof.Harm;
using Commission.Proof.Honesty;
using Commission.Proof.Link;
using Commission.Proof.Screens;
using Commission.Proof.Speed;
using Commission.Proof.Walks;
using Commission.Tests;

if (LinkCommands.Run(args) is { } linked)
    return linked;

// tests/Commission.Proof -- link-faults | link-fuzz | link-speed [--short]: see LinkCommands
// tests/Commission.Proof -- [--short] [--table A] [--seed N] [--runs N of tables B and C]
// tests/Commission.Proof -- durability [--short]
// tests/Commission.Proof -- years [--short]
// tests/Commission.Proof -- charts [--short]
// tests/Commission.Proof -- screens [--program PATH] [--empty PATH] [--short]
// tests/Commission.Proof -- old-journal DIR
// tests/Commission.Proof -- walks [--seeds N] [--short]
// tests/Commission.Proof -- causes [--runs N]
// tests/Commission.Proof -- cost [--short]
// tests/Commission.Proof -- blunders [--short] [--runs N]
// Table E with --program PATH measures the published program as a whole process, with --empty PATH against an empty one.
// The short form runs in CI; the long form takes minutes and is what the README quotes.
var isShort = args.Contains("--short");
if (args is ["durability", ..])
    return DurabilityCommand.Run(isShort);
if (args is ["years", ..])
    return YearsCommand.Run(isShort);
if (args is ["old-journal", var old])
    return OldJournal.Write(old);
if (args is ["charts", ..])
    return ChartsCommand.Run(isShort);
if (args is ["walks", ..])
    return WalksCommand.Run(After("--seeds") is { } count ? int.Parse(count, System.Globalization.CultureInfo.InvariantCulture) : isShort ? 5 : 40);
if (args is ["cost", ..])
    return CostCommand.Run(isShort);
if (args is ["causes", ..])
    return Causes();
if (args is ["blunders", ..])
    return Blunders.Run(isShort, Runs());
if (args is ["screens", ..] && OperatingSystem.IsLinux())
    return ScreenSpeedCommand.Run(isShort, After("--program"), After("--empty"));
if (args is ["screen-stand", var log])
    return StandCommand.Run(log);
if (args is [KillRun.ChildWord, var folder])
    return KillRun.Child(folder);
var only = After("--table");
var seed = After("--seed") is { } typed ? ulong.Parse(typed, System.Globalization.CultureInfo.InvariantCulture) : 20261125UL;
var runs = Runs();
var population = PopulationFile.Read(File.ReadAllText(Repository.At("shared/reference/population.json")));

(string Letter, Func<IEnumerable<ProofTable>> Make)[] tables =
[
    ("A", () => HarmTable.Make(population, seed, isShort ? 1000 : 24_000, isShort ? 200 : 4000)),
    ("B", Honesty),
    ("C", () => [EfficiencyTable.Make(seed, runs ?? (isShort ? 2000 : 20_000), isShort ? 300 : 10_000)]),
    ("D", () => [DigitsTable.Make()]),
    ("E", () => [SpeedTable.Make(seed, isShort, After("--program"), After("--empty"))]),
    ("F", () => [FaultTable.Make(seed, isShort)]),
];

var missed = 0;
foreach (var (letter, make) in tables.Where(table => only is null || only.Contains(table.Letter, StringComparison.Ordinal)))
{
    foreach (var table in make())
    {
        Console.WriteLine(table.Print());
        missed += table.Goals.Count(goal => goal is { Held: false, Counts: true });
    }

    // Growing journals belong to Table E, and are a run of their own as well; so are the link and, for a published program, the screens.
    if (letter == "E")
        missed += YearsCommand.Run(isShort);
    if (letter == "E" && only == "E" && OperatingSystem.IsLinux())
        missed += LinkSpeedCommand.Run(isShort, load: 0) + (After("--program") is { } published ? ScreenSpeedCommand.Run(isShort, published, After("--empty")) : 0);
}

return missed == 0 ? 0 : 1;

// Each printed when it is known: the second takes as long as the first.
IEnumerable<ProofTable> Honesty()
{
    yield return HonestyTable.Make(seed, runs ?? (isShort ? 300 : 20_000));
    yield return BrokenTable.Make(seed, isShort ? 200 : Math.Min(runs ?? 4000, 4000));
}

int Causes()
{
    foreach (var line in HarmCauses.Lines(PopulationFile.Read(File.ReadAllText(Repository.At("shared/reference/population.json"))), 20261125UL, Runs() ?? (isShort ? 200 : 8000)))
        Console.WriteLine(line);
    return 0;
}

int? Runs() => After("--runs") is { } wanted ? int.Parse(wanted, System.Globalization.CultureInfo.InvariantCulture) : null;

string? After(string name)
{
    var at = Array.IndexOf(args, name);
    return at >= 0 && at + 1 < args.Length ? args[at + 1] : null;
}

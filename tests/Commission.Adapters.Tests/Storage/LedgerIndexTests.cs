using Commission.Core.Characteristics;
using Commission.Core.Upkeep;
using Commission.Tests;
using LiteDB;

namespace Commission.Adapters.Tests.Storage;

public sealed class LedgerIndexTests : OwnFolder
{
    private readonly FakeTimeProvider clock = new(new DateTimeOffset(2031, 5, 4, 9, 0, 0, TimeSpan.Zero));

    private string IndexFile => Path.Combine(Folder, "index.db");

    private JournalFolder Open() => (JournalFolder)JournalFolder.Open(
        Folder, new JournalOpening { Nature = StoreNature.Real, Program = "0.1.0", Clock = clock, NewStore = () => "heron1" }).Require();

    private static EntryBody.FindingMade Found(string axis, double value, params long[] readings) => new()
    {
        Machine = "Heron", Characteristic = "axis-scale", Axis = axis, Readings = [.. readings], Options = new FitOptions(),
        Finding = new Finding
        {
            Kind = "axis-scale", Method = "axis-scale/1", Rows = 1, Used = 1, Verdict = Verdict.None,
            Parameters = [new FittedParameter { Name = "scaleError", Unit = "1", Value = value, ExpandedUncertainty = 1e-4 }],
            Advice = new Advice { Action = AdviceAction.Leave, Because = "it is an example" },
        },
    };

    // Entries 2 to 8.
    private static void Fill(JournalFolder journal)
    {
        foreach (var body in (EntryBody[])
        [
            new EntryBody.RunStarted { Machine = "Heron", Procedure = "axis-scale", ProcedureHash = "0", Axis = "X" },
            Shelf.Reading(1) with { Run = 2 }, Shelf.Reading(2) with { Run = 2 },
            Found("X", 1e-4, 3, 4) with { Run = 2 }, Found("X", 2e-4), Found("Y", 3e-4), new EntryBody.Withdrawn(6, "wrong caliper"),
        ])
        {
            journal.Append(body).Require();
        }
    }

    // A journal that was filled, and its index beside it.
    private void Indexed()
    {
        using var journal = Open();
        Fill(journal);
        LedgerIndex.Open(journal).Require().Dispose();
    }

    private static void Expect(IHistoryIndex index)
    {
        var only = Assert.Single(index.Trend("Heron", "axis-scale", "X"));
        Assert.Equal((5L, 1e-4, 1e-4, (long?)3, (long?)4), (only.Sequence, only.Value, only.ExpandedUncertainty, only.FirstReading, only.LastReading));
        Assert.Equal(new DateTimeOffset(2031, 5, 4, 9, 0, 0, TimeSpan.Zero), only.At);
        Assert.Single(index.Trend("Heron", "axis-scale", "Y"));
        Assert.Empty(index.Trend("Heron", "axis-scale"));
        Assert.Equal(new IndexedRun(2, 5, only.At, "axis-scale", "X", 2, null), Assert.Single(index.Runs("Heron")));
        Assert.Equal(8, index.Last);
    }

    [Fact]
    public void It_answers_and_takes_in_what_comes_later()
    {
        using var journal = Open();
        using var index = LedgerIndex.Open(journal).Require();
        Assert.Empty(index.Trend("Heron", "axis-scale", "X"));
        Fill(journal);
        index.CatchUp();
        Expect(index);
    }

    [Fact]
    public void The_series_of_the_index_is_the_series_of_the_journal()
    {
        using var journal = Open();
        journal.Append(new EntryBody.MachineDescribed(Shelf.Heron, false) { Machine = "Heron" }).Require();
        journal.Append(new EntryBody.RunStarted { Machine = "Heron", Procedure = "axis-scale", ProcedureHash = "0", Axis = "X" }).Require();
        journal.Append(Shelf.Reading(1) with { Run = 3 }).Require();
        clock.Advance(TimeSpan.FromHours(3));
        var made = Found("X", 1e-4, 4) with { Run = 3, Instrument = "caliper", Options = new FitOptions { Tolerance = new Tolerance(3e-4, "1", "300ppm") } };
        journal.Append(made with { Finding = made.Finding with { Parameters = [made.Finding.Headline with { FreshUncertainty = 3e-5, SharedUncertainty = 4e-5, CoverageFactor = 2 }] } }).Require();
        clock.Advance(TimeSpan.FromDays(3));
        foreach (var body in (EntryBody[])
        [
            new EntryBody.ChangeTold("crash", "X", "hit the clamp") { Machine = "Heron" }, new EntryBody.ChangeTold("belt-tensioned", null, "") { Machine = "Heron" },
            new EntryBody.Withdrawn(7, "other machine"), new EntryBody.SettingWritten { Machine = "Heron", Name = "stepsPerMm", Axis = "X", Before = 320, After = 320.1, Stage = "told" },
            Found("X", 2e-4), Found("X", 3e-4), new EntryBody.Withdrawn(11, "slip"),
        ])
        {
            journal.Append(body).Require();
        }

        using var index = LedgerIndex.Open(journal).Require();
        var (told, whole, key) = (index.Series("Heron", "axis-scale"), UpkeepFold.From(journal.Entries()), new ResultKey("Heron", "axis-scale", "X"));
        Assert.Equal(["Heron"], index.Machines);
        Assert.Equal(whole.Counting(key), told.Counting(key));
        Assert.Equal(2, told.Counting(key).Count());
        Assert.Equal(whole.Events.Where(happened => !whole.Withdrawn.Contains(happened.Sequence)), told.Events);
        Assert.Equal(TrendOfResults.Of(whole, key)!.Points, TrendOfResults.Of(told, key)!.Points);
    }

    [Theory]
    [InlineData("missing")]
    [InlineData("emptied")]
    [InlineData("truncated")]
    [InlineData("text")]
    [InlineData("garbled")]
    [InlineData("older")]
    [InlineData("newer")]
    public void It_grows_back(string how)
    {
        Indexed();
        var bytes = File.ReadAllBytes(IndexFile);
        switch (how)
        {
            case "missing": File.Delete(IndexFile); break;
            case "emptied": File.WriteAllBytes(IndexFile, []); break;
            case "truncated": File.WriteAllBytes(IndexFile, bytes[..(bytes.Length / 2)]); break;
            case "text": File.WriteAllText(IndexFile, "not an index at all"); break;
            case "older": SetVersion(0); break;
            case "newer": SetVersion(99); break;
            case "garbled": File.WriteAllBytes(IndexFile, [.. bytes.Select((one, at) => at > 8192 ? (byte)(one ^ 0x5A) : one)]); break;
        }

        using var again = Open();
        var told = new List<double>();
        using var index = LedgerIndex.Open(again, new Progress(told)).Require();
        Expect(index);
        Assert.Equal(1.0, told[^1]);
        Assert.Null(again.ReadOnlyReason);
    }

    private void SetVersion(int version)
    {
        using var database = new LiteDatabase(new ConnectionString { Filename = IndexFile, Collation = Collation.Binary });
        var about = database.GetCollection("about");
        var tip = about.FindById("tip");
        tip["version"] = version;
        about.Update(tip);
    }

    [Fact]
    public void An_index_that_knows_more_than_the_journal_stops_the_writing()
    {
        Indexed();
        var file = Path.Combine(Folder, "journal", "000001.jsonl");
        File.WriteAllText(file, string.Join('\n', File.ReadAllText(file).Split('\n')[..^3]) + "\n");
        var before = File.ReadAllBytes(IndexFile);
        using var shorter = Open();
        var bad = Assert.IsType<Outcome<IHistoryIndex>.Bad>(LedgerIndex.Open(shorter));
        Assert.Contains("the index knows 8 entries and the journal 6", bad.Problems[0].What, StringComparison.Ordinal);
        Assert.IsType<Outcome<JournalEntry>.Bad>(shorter.Append(Shelf.Reading(3)));
        Assert.Equal(before, File.ReadAllBytes(IndexFile));
    }

    [Fact]
    public void A_journal_put_in_place_of_another_is_noticed()
    {
        Indexed();
        Directory.Delete(Path.Combine(Folder, "journal"), recursive: true);
        clock.Advance(TimeSpan.FromDays(1));
        using var other = Open();
        Fill(other);
        Assert.Contains("was replaced", Assert.IsType<Outcome<IHistoryIndex>.Bad>(LedgerIndex.Open(other)).Problems[0].What, StringComparison.Ordinal);
    }

    private sealed class Progress(List<double> told) : IProgress<double>
    {
        public void Report(double value) => told.Add(value);
    }
}

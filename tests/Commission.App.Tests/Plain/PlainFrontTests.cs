using System.Collections.Immutable;
using System.Globalization;
using Commission.App.CommandLine;
using Commission.App.Plain;
using Commission.Core.Instruments;
using Commission.Core.Motion;
using Commission.Core.Procedures;
using Commission.Tests;
using Commission.Workshop.Controllers;
using Commission.Workshop.Requests;
using Commission.Workshop.Sessions;
using Microsoft.Extensions.Time.Testing;

namespace Commission.App.Tests.Plain;

public sealed class PlainFrontTests
{
    internal const string CountedWords = "empty takes what it counted";

    private static ImmutableArray<string> Preparations { get; } = ["yes", "yes", "yes", "yes", "yes", "yes"];

    [Fact]
    public async Task Ten_readings_end_after_six_go_on_at_the_seventh_and_end_with_a_finding_line()
    {
        using var journal = Journal();
        var (code, first, _) = await RunAsync(journal, [.. Preparations, .. Readings(0, 6)]);
        Assert.Equal(ExitCode.BadRequest, code);
        Assert.Contains("recorded 6", first);
        Assert.DoesNotContain("recorded 7", first);

        var (again, second, _) = await RunAsync(journal, ["s", "no", "yes", .. Readings(6, 4), "yes", "o"]);
        Assert.Contains("recorded 7", second);
        Assert.Contains("recorded 10", second);
        Assert.Contains(second, line => line.StartsWith("ask number scale/7: ", StringComparison.Ordinal));
        Assert.Contains(second, line => line.StartsWith("finding ", StringComparison.Ordinal) && line.Split(' ').Length == 3);
        Assert.Contains(again, new[] { ExitCode.Done, ExitCode.Outside, ExitCode.Undecided });
    }

    [Fact]
    public async Task Who_reads_again_and_types_the_same_keeps_it_by_yes_and_is_not_asked_without_end()
    {
        using var journal = Journal();
        var (_, lines, _) = await RunAsync(journal, [.. Preparations, "99999", "yes", "99999", "yes"]);
        var asked = lines.Where(line => line.Contains("A slip?", StringComparison.Ordinal)).ToArray();
        Assert.Equal(2, asked.Length);
        Assert.EndsWith("Empty for R.", asked[0], StringComparison.Ordinal);
        Assert.EndsWith("Empty for O.", asked[1], StringComparison.Ordinal);
        Assert.Contains(lines, line => line.Contains("Reading 2 of", StringComparison.Ordinal));
    }

    // Found by use: the place of a reading was hidden behind four hundred letters that were the same for each.
    [Fact]
    public async Task How_a_reading_is_taken_is_told_at_the_first_and_again_where_an_answer_was_none()
    {
        using var journal = Journal();
        var (_, lines, _) = await RunAsync(journal, ["s", "s", "s", .. Readings(0, 3), "what", .. Readings(3, 1)]);
        var prompts = lines.Where(line => line.StartsWith("ask number scale/", StringComparison.Ordinal)).ToArray();
        Assert.Equal([true, false, false, false, true, false], prompts.Select(line => line.Contains("R reads the last one again", StringComparison.Ordinal)));
        Assert.All(prompts.Where(line => !line.Contains("R reads", StringComparison.Ordinal)), line => Assert.EndsWith(" In mm; R, X, U and Q as before.", line, StringComparison.Ordinal));
    }

    [Fact]
    public async Task Every_prompt_is_one_line_of_the_contract_and_hazards_come_first()
    {
        using var journal = Journal();
        var (_, lines, _) = await RunAsync(journal, [.. Preparations, .. Readings(0, 10), "yes", "o"]);
        var prompts = lines.Where(line => line.StartsWith("ask ", StringComparison.Ordinal)).ToArray();
        Assert.All(prompts, prompt => Assert.Matches("^ask (confirm|choose|number|text|motion) [a-z0-9/-]+: .+$", prompt));
        Assert.StartsWith("ask confirm hazards: ", prompts[0], StringComparison.Ordinal);
        Assert.Contains(lines, line => line.StartsWith("Hazard 1 of 3. ", StringComparison.Ordinal));
    }

    [Fact]
    public async Task An_answer_that_is_none_brings_the_question_again_without_the_text_before_it_and_S_confirms_like_yes()
    {
        using var journal = Journal();
        var (_, lines, errors) = await RunAsync(journal, ["s", "what", "s"]);
        Assert.Equal(2, lines.Count(line => line.StartsWith("ask confirm blocks: ", StringComparison.Ordinal)));
        Assert.Single(lines, line => line.StartsWith("1  Warm up", StringComparison.Ordinal));
        Assert.Contains("'what' is no answer here", string.Concat(errors), StringComparison.Ordinal);
        Assert.DoesNotContain("blocks", lines[^1], StringComparison.Ordinal);
    }

    [Fact]
    public async Task U_takes_the_last_answer_or_reading_back_and_its_question_comes_again()
    {
        using var journal = Journal();
        var (_, lines, _) = await RunAsync(journal, ["s", "s", "u", "s", "s", .. Readings(0, 2), "u", .. Readings(1, 1)]);
        Assert.Contains("U takes the last answer back.", lines.Last(line => line.StartsWith("ask confirm ", StringComparison.Ordinal)), StringComparison.Ordinal);
        Assert.DoesNotContain("U takes", lines.First(line => line.StartsWith("ask confirm blocks: ", StringComparison.Ordinal)), StringComparison.Ordinal);
        Assert.Equal(2, lines.Count(line => line.StartsWith("ask confirm blocks: ", StringComparison.Ordinal)));
        Assert.Equal(2, lines.Count(line => line.StartsWith("ask number scale/2: ", StringComparison.Ordinal)));
        Assert.Equal(2, lines.Count(line => line.StartsWith("taken back: ", StringComparison.Ordinal)));
        Assert.Contains(journal.Entries(), entry => entry.Body is EntryBody.Noted { Text: EntryBody.Noted.TakenBack });
    }

    [Fact]
    public async Task U_at_a_question_about_an_earlier_reading_does_not_lose_the_question()
    {
        using var journal = Journal();
        var typed = Readings(0, 3).ToArray();
        typed[1] = (double.Parse(typed[1], CultureInfo.InvariantCulture) - 10).ToString("F2", CultureInfo.InvariantCulture);
        var (_, lines, _) = await RunAsync(journal, [.. Preparations, .. typed, "u", typed[2]]);
        var asked = lines.Where(line => line.Contains("A slip?", StringComparison.Ordinal)).ToArray();
        Assert.Equal(2, asked.Length);
        Assert.Equal(asked[0], asked[1]);
        Assert.Contains(typed[1] + " lies ", asked[1], StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_number_that_cannot_have_its_sign_is_asked_about_before_it_is_kept()
    {
        using var journal = Journal();
        using var output = new StringWriter();
        using var input = new StringReader("s\ns\n-48\nr\n-48\na\n");
        var request = Request(null) with { Procedure = ShippedProcedures.Read("readiness"), Axis = null };
        await new PlainFront(input, output, TextWriter.Null).RunAsync(ProcedureSession.Open(journal, request).Require(), TestContext.Current.CancellationToken);
        Assert.Equal(2, output.ToString().Split("ask choose p05: -48: it is below zero, which cannot be here. A slip? R answers anew. A takes 48 V. O stores -48 V. Empty for R.").Length - 1);
        Assert.Equal(("-48", 48.0), (Ledger.From(journal.Entries()).Checks[^1].Body.Typed, Ledger.From(journal.Entries()).Checks[^1].Body.Value!.Value));
    }

    [Fact]
    public async Task Hazards_answered_with_anything_else_put_the_run_aside_and_nothing_is_read()
    {
        using var journal = Journal();
        var (code, lines, _) = await RunAsync(journal, ["no", "8.49"]);
        Assert.Equal(ExitCode.Done, code);
        Assert.DoesNotContain(lines, line => line.StartsWith("recorded", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_value_that_nobody_chose_is_not_recorded_and_what_was_is_said_with_its_unit()
    {
        using var journal = Journal();
        var (_, lines, errors) = await RunAsync(journal, [.. Preparations, "1,234", "5.8382", "T", "r", "8,5"]);
        Assert.Equal(2, lines.Count(line => line.StartsWith("ask choose comma: 1,234 can be ", StringComparison.Ordinal)));
        Assert.Contains("'5.8382' is none of the two", string.Concat(errors), StringComparison.Ordinal);
        Assert.Equal([1234, 8.5], journal.Entries().Select(entry => entry.Body).OfType<EntryBody.ReadingTaken>().Select(reading => reading.Value));
        Assert.Contains("reading 1 of 10 is 8.50 mm.", lines);
    }

    [Fact]
    public async Task A_comma_with_two_meanings_is_asked_about_and_a_word_is_refused()
    {
        using var journal = Journal();
        var (_, lines, errors) = await RunAsync(journal, [.. Preparations, "many", "1,234", "d"]);
        Assert.Contains(lines, line => line.StartsWith("ask choose comma: 1,234 can be ", StringComparison.Ordinal));
        Assert.Contains("recorded 1", lines);
        Assert.Contains(errors, line => line.Contains("\"many\"", StringComparison.Ordinal));
        var reading = journal.Entries().Select(entry => entry.Body).OfType<EntryBody.ReadingTaken>().Single();
        Assert.Equal(("1,234", 1.234), (reading.Typed, reading.Value));
    }

    [Fact]
    public async Task A_signal_ends_the_run_with_130_and_it_can_be_taken_up_again()
    {
        using var journal = Journal();
        using var ending = new CancellationTokenSource();
        await ending.CancelAsync();
        var (code, _, _) = await RunAsync(journal, Preparations, ending: ending);
        Assert.Equal(ExitCode.Interrupted, code);
    }

    [Fact]
    public async Task A_move_over_the_link_needs_its_token_and_yes_confirms_none()
    {
        using var journal = Journal();
        var motion = new Scripted();
        var (_, lines, errors) = await RunAsync(journal, [.. Preparations, "yes", "go X+25"], motion);
        Assert.Contains(lines, line => line.StartsWith("ask motion scale: ", StringComparison.Ordinal) && line.EndsWith(" go X+25", StringComparison.Ordinal));
        Assert.Contains(errors, line => line.Contains("nothing moved", StringComparison.Ordinal));
        Assert.Equal(1, motion.Made);
    }

    [Fact]
    public async Task With_nobody_known_to_watch_no_move_is_made()
    {
        using var journal = Journal();
        var motion = new Scripted();
        var (code, _, _) = await RunAsync(journal, [.. Preparations, "go X+25"], motion, "input is not a terminal");
        Assert.Equal(ExitCode.BadRequest, code);
        Assert.Equal(0, motion.Made);
    }

    // An hour at rest and one trip in it, seen each second; then each number is taken with an empty line.
    [Fact]
    public async Task An_open_link_counts_hours_and_trips_for_the_step_that_asks_and_an_empty_line_takes_them()
    {
        var clock = new FakeTimeProvider();
        using var journal = Journal(clock);
        var said = await CountedAsync(journal, clock, "yes\nyes\n\n\n");
        Assert.Contains(CountedWords, said, StringComparison.Ordinal);
        Assert.Contains("Watched 1 h: 1 trip.", said, StringComparison.Ordinal);
        var checks = Ledger.From(journal.Entries()).Checks.Select(made => made.Body).ToArray();
        Assert.Equal([1.0, 1.0], checks.Select(made => Math.Round(made.Value!.Value, 3)));
        Assert.Equal(4.744, Ledger.From(journal.Entries()).Findings.Values.Single().Made.Body.Finding.Headline.Value!.Value, 2);
    }

    // Found in review: a day typed by hand was called clean by what a counter saw in its first seconds.
    [Fact]
    public async Task Trips_of_hours_that_were_typed_are_typed()
    {
        var clock = new FakeTimeProvider();
        using var typed = Journal(clock);
        var said = await CountedAsync(typed, clock, "yes\nyes\n24\n\n");
        Assert.Equal(2, said.Split("empty takes what it counted.").Length);
        Assert.Equal(["hours"], Ledger.From(typed.Entries()).Checks.Select(made => made.Body.Check));

        said = await CountedAsync(typed, clock, "yes\n\n2\n");
        Assert.DoesNotContain("empty takes what it counted.", said, StringComparison.Ordinal);
        Assert.Equal([24.0, 2.0], Ledger.From(typed.Entries()).Checks.Select(made => made.Body.Value!.Value));
    }

    // The input ends at the end of the first hour, and the program is started again half an hour later: only the time between is a hole.
    [Fact]
    public async Task A_count_outlives_the_program_and_goes_on_with_the_hole_left_out()
    {
        var clock = new FakeTimeProvider();
        using var journal = Journal(clock);
        await CountedAsync(journal, clock, "yes\nyes\n");
        Assert.Empty(Ledger.From(journal.Entries()).Checks);
        clock.Advance(TimeSpan.FromMinutes(30));

        var said = await CountedAsync(journal, clock, "yes\n\n\n");
        Assert.Contains(" h kept; empty takes what it counted.", said, StringComparison.Ordinal);
        Assert.Matches(@"Watched (2|1\.999) h in 2 pieces; 0\.5 h between them were not seen and do not count: 2 trips\.", said);
        var checks = Ledger.From(journal.Entries()).Checks.ToDictionary(made => made.Body.Check, made => made.Body.Value!.Value);
        Assert.Equal(2, checks["hours"], 0.001);
        Assert.Equal(2, checks["trips"]);
    }

    [Fact]
    public async Task Trips_of_hours_that_were_taken_before_the_program_ended_are_those_of_just_these_hours()
    {
        var clock = new FakeTimeProvider();
        using var journal = Journal(clock);
        await CountedAsync(journal, clock, "yes\nyes\n\n");
        Assert.Equal(["hours"], Ledger.From(journal.Entries()).Checks.Select(made => made.Body.Check));

        await CountedAsync(journal, clock, "yes\n\n");
        Assert.Equal([1.0, 1.0], Ledger.From(journal.Entries()).Checks.Select(made => Math.Round(made.Body.Value!.Value, 3)));
    }

    [Fact]
    public async Task After_new_wiring_the_old_hours_prove_nothing_and_the_count_begins_anew()
    {
        var clock = new FakeTimeProvider();
        using var journal = Journal(clock);
        await CountedAsync(journal, clock, "yes\nyes\n");
        journal.Append(new EntryBody.ChangeTold("wiring-changed", null, "") { Machine = "Heron" }).Require();
        Assert.Contains("Watched 1 h: 1 trip.", await CountedAsync(journal, clock, "yes\n\n\n"), StringComparison.Ordinal);
    }

    // An hour at rest with one trip in it is seen as soon as the counting begins.
    private static async Task<string> CountedAsync(MemoryJournal journal, FakeTimeProvider clock, string typed)
    {
        var gate = new Gate { Dialect = Core.Machines.Dialects.ShippedDialects.Find("numbered-settings")!, Facts = GateFacts.Of(Heron, Ledger.Empty) };
        var resting = StateReport.Of(Core.Machines.Dialects.ControllerState.Resting, new(0, 0, 0));
        var seconds = 0;
        LinkSnapshot Now() => new(gate.After(new GateEvent.Reported(TimeSpan.FromSeconds(seconds), seconds is > 1000 and < 1010 ? resting with { Pressed = [AxisName.X] } : resting)).Gate, TimeSpan.Zero, null);
        TripCounter Counted(ProcedureSession session)
        {
            var counter = new TripCounter(Now, clock, session);
            for (; seconds < 3600; seconds++)
                clock.Advance(TimeSpan.FromSeconds(1));
            return counter;
        }

        var switched = Heron.X with { Switches = Switches.Home };
        var request = Request(null) with
        {
            Procedure = ShippedProcedures.Read("noise"),
            Axis = null,
            Machine = Heron with { X = switched, Y = switched, Z = switched },
        };
        using var output = new StringWriter();
        using var input = new StringReader(typed);
        await new PlainFront(input, output, TextWriter.Null) { CountTrips = Counted }.RunAsync(ProcedureSession.Open(journal, request).Require(), TestContext.Current.CancellationToken);
        return output.ToString();
    }

    private static async Task<(int Code, ImmutableArray<string> Lines, ImmutableArray<string> Errors)> RunAsync(
        MemoryJournal journal, ImmutableArray<string> typed, Scripted? motion = null, string? whyNoMotion = null, CancellationTokenSource? ending = null)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        using var input = new StringReader(string.Join('\n', typed));
        var session = ProcedureSession.Open(journal, Request(motion)).Require();
        var code = await new PlainFront(input, output, error) { WhyNoMotion = whyNoMotion }.RunAsync(session, ending?.Token ?? TestContext.Current.CancellationToken);
        return (code, [.. output.ToString().ReplaceLineEndings("\n").Split('\n')], [.. error.ToString().ReplaceLineEndings("\n").Split('\n')]);
    }

    internal static MemoryJournal Journal(FakeTimeProvider? clock = null) => new(StoreNature.Real, "abc123", "test", clock ?? new FakeTimeProvider());

    internal static SessionRequest Request(Scripted? motion) => new()
    {
        Procedure = ShippedProcedures.Read("axis-scale"),
        ProcedureHash = "h1",
        Machine = Heron,
        Axis = AxisName.X,
        Instrument = Invented.Caliper,
        Motion = motion,
    };

    private static Machine Heron { get; } = new()
    {
        Name = "Heron",
        TravelMm = [420, 580, 90],
        X = new AxisDescription { Drive = DriveKind.Screw, TravelPerTurnMm = 5, StepsPerMm = 320, Grade = 7 },
    };

    // What a caliper shows on an axis that does as it is told: positions are taken from the plan.
    internal static IEnumerable<string> Readings(int from, int count, double stretch = 0)
    {
        var run = ProcedureRun.Start(Request(null).Procedure, new RunSetting { Machine = Heron, Axis = AxisName.X, Instrument = Request(null).Instrument }).Require();
        run = run.After(new RunEvent.HazardsRead());
        while (run.Needs is not Need.TakeReading) run = run.After(new RunEvent.Confirmed());
        double[] hand = [0.012, -0.008, 0.004, -0.013, 0.009, -0.004, 0.011, -0.01, 0.003, -0.006];
        return run.Cells.Select((cell, i) => ((cell.Given["commanded_mm"] * (1 + stretch)) - 135 + hand[i]).ToString("F2", CultureInfo.InvariantCulture)).Skip(from).Take(count);
    }

    internal sealed class Scripted : IMotion
    {
        public int Made { get; private set; }

        public Core.Outcome<string> Propose(IReadOnlyList<Move> moves) => "go X+25";

        public Task<Core.Outcome<string>> CarryOutAsync(string token, Func<string, Core.Outcome<ProcedureRun>> begun, CancellationToken cancellation)
        {
            begun("X to the right, 25 mm").Require();
            Made++;
            return Task.FromResult<Core.Outcome<string>>("X by +25 mm");
        }

        public void PowerChanged(bool drivesOn)
        {
        }
    }
}

using System.Runtime.Versioning;
using Commission.App.CommandLine;
using Commission.Core.Machines.Dialects;
using Commission.Core.Procedures;
using Commission.Practice.Bench;
using Commission.Practice.Controller;
using Commission.Practice.Machines;
using Commission.Tests;
using Commission.Workshop.Requests;

namespace Commission.App.Tests.Attended;

/// <summary><c>procedure run ID --port … --attended</c>, from the typed words to the practice controller behind a pseudo-terminal and back.</summary>
[UnsupportedOSPlatform("windows")]
public sealed class AttendedRunTests : OwnFolder
{
    /// <summary>Every shipped procedure whose readings lie at places that the machine is moved to.</summary>
    private static readonly (string Id, AxisName? Axis, string Kind, string Parameter)[] Moving =
    [
        ("axis-scale", AxisName.X, "axis-scale", "scaleError"),
        ("axis-scale", AxisName.Z, "axis-scale", "scaleError"),
        ("backlash", AxisName.Y, "backlash", "reversal"),
        ("stiffness", AxisName.X, "stiffness", "clearance"),
        ("bed-map", null, "flatness", "rawRange"),
        ("z-axis", null, "backlash", "reversal"),
        ("recheck", AxisName.X, "backlash", "reversal"),
    ];

    [Fact]
    public void The_list_of_moving_procedures_is_complete()
    {
        var moving = AttendedScene.Shipped().Where(p => p.AllSteps.Any(step => step is Step.MoveMachine
            || step is Step.Read { Grid: Grid.AlongAxis or Grid.Places or Grid.Points })).Select(p => p.Id);
        // The first power-up moves and has no readings: it has a test of its own.
        Assert.Equal(moving.Order(), Moving.Select(one => one.Id).Distinct().Append("first-power-up").Append("first-moves").Order());
    }

    /// <summary>All at once: they mostly wait for their machines.</summary>
    [Fact]
    public async Task Every_moving_procedure_is_carried_out_over_the_link_and_finds_what_is_true()
    {
        var runs = Moving.Select(one => Task.Run(async () =>
        {
            using var scene = new AttendedScene(Folder, one.Id, one.Axis);
            var code = await scene.RunAsync("--attended", "--instrument", one.Id == "axis-scale" ? "caliper 150" : "indicator");
            Assert.True(code is ExitCode.Done or ExitCode.Outside or ExitCode.Undecided, one.Id + ": " + scene.Person.Seen + scene.Errors);
            var finding = scene.Entries().Select(entry => entry.Body).OfType<EntryBody.FindingMade>().First(made => made.Characteristic == one.Kind).Finding;
            var parameter = finding.Parameters.First(p => p.Name == one.Parameter);
            var truth = scene.Bench.TrueValue(one.Kind, one.Id == "z-axis" ? AxisName.Z : one.Axis, one.Parameter)!.Value;
            Assert.True(Math.Abs(parameter.Value!.Value - truth) <= 2 * (parameter.ExpandedUncertainty ?? parameter.FreshUncertainty ?? 0.02) + 0.02 * (one.Kind == "axis-scale" ? 0 : 1),
                $"{one.Id}: found {parameter.Value}, true {truth}");
            var moves = scene.Entries().Count(entry => entry.Body is EntryBody.Moved { Step: not null });
            Assert.True(moves > 5, one.Id);
            Assert.DoesNotContain(scene.Board.Controller.Taken, DialectWords.Forbidden);
        }));
        await Task.WhenAll(runs);
    }

    /// <summary>P24, P25 and P27 by confirmed moves: one slow millimetre an axis, then the watched homing, each after the check that protects it.</summary>
    [Fact]
    public async Task The_first_power_up_moves_each_axis_by_one_slow_millimetre_and_homes_once_watched()
    {
        using var scene = new AttendedScene(Folder, "first-power-up", axis: null, ready: false);
        var code = await scene.RunAsync("--attended");
        Assert.True(code == ExitCode.Done && scene.Person.Seen.Contains("The run is complete.", StringComparison.Ordinal), scene.Person.Seen + scene.Errors);
        Assert.Equal(
            ["$X", "$J=G21G91X1F100", "$J=G21G91Y1F100", "$J=G21G91Z1F100", "$H"],
            scene.Board.Controller.Taken.Where(line => line[..2] is "$X" or "$J" or "$H"));
        Assert.Contains("Type the word at the end to unlock, Q to put the run aside. unlock", scene.Person.Seen, StringComparison.Ordinal);
        var bodies = scene.Entries().Select(entry => entry.Body).ToList();
        int Checked(string id) => bodies.FindIndex(body => body is EntryBody.Checked check && check.Check == id);
        var moves = bodies.Select((body, at) => (Moved: body as EntryBody.Moved, at)).Where(one => one.Moved is { Step: not null }).ToList();
        Assert.Equal(["first-x", "first-y", "first-z", "first-homing"], moves.Select(one => one.Moved!.Step!));
        Assert.True(new[] { "P05", "P06", "P07", "P08", "P22", "P30" }.All(id => Checked(id) >= 0 && Checked(id) < moves[0].at));
        Assert.True(bodies.FindLastIndex(body => body is EntryBody.Checked { Check: "P25" }) < moves[3].at && moves[3].at < Checked("P27"));
    }

    /// <summary>Without a link the same checks are questions, and no step asks for a move.</summary>
    [Fact]
    public void Without_a_link_the_first_power_up_asks_and_moves_nothing()
    {
        var procedure = AttendedScene.Shipped().First(p => p.Id == "first-power-up");
        var moves = procedure.AllSteps.OfType<Step.MoveMachine>().ToList();
        Assert.Equal(4, moves.Count);
        Assert.All(moves, move => Assert.Contains(move.When, condition => condition is { Fact: "link", Words: ["yes"] }));
        Assert.All(new[] { "p24-x", "p25-x", "p24-y", "p25-y", "p24-z", "p25-z", "p27" }, name =>
            Assert.DoesNotContain(procedure.AllSteps.OfType<Step.Check>().First(check => check.Name == name).When, condition => condition.Fact == "link"));
        // The move that a check asks about is commanded by the person: it is said before, and only without a link.
        Assert.All(new[] { "x", "y", "z" }, axis =>
        {
            var told = procedure.AllSteps.OfType<Step.Instruct>().First(step => step.Name == "by-hand-" + axis);
            Assert.Contains($"command {axis.ToUpperInvariant()} by +1 mm at 100 mm/min, once", told.Text, StringComparison.Ordinal);
            Assert.Contains(told.When, condition => condition is { Fact: "link", Words: ["no"] });
        });
    }

    /// <summary>No switches: each axis is pushed to its stop at the corner that the machine's description names, and confirmed there.</summary>
    [Fact]
    public async Task A_machine_without_switches_is_placed_at_the_corner_that_its_operator_named()
    {
        using var scene = new AttendedScene(Folder, "axis-scale", AxisName.X, switches: false);
        var code = await scene.RunAsync("--attended", "--instrument", "caliper 150");
        Assert.True(code is ExitCode.Done or ExitCode.Outside or ExitCode.Undecided, scene.Person.Seen + scene.Errors);
        Assert.Contains("X stands on its marked place, the stop at the low end of its travel.", scene.Person.Seen);
        Assert.Contains("Z stands on its marked place, the stop at the high end of its travel.", scene.Person.Seen);
        Assert.DoesNotContain("$H", scene.Board.Controller.Taken);
        var finding = scene.Entries().Select(entry => entry.Body).OfType<EntryBody.FindingMade>().First().Finding;
        var truth = scene.Bench.TrueValue("axis-scale", AxisName.X, "scaleError")!.Value;
        Assert.True(Math.Abs(finding.Parameters[0].Value!.Value - truth) <= 2 * finding.Parameters[0].ExpandedUncertainty!.Value);
    }

    [Fact]
    public async Task Without_a_terminal_and_without_attended_nothing_moves()
    {
        using var scene = new AttendedScene(Folder, "axis-scale", AxisName.X);
        Assert.Equal(ExitCode.BadRequest, await scene.RunAsync("--instrument", "caliper 150"));
        Assert.Contains("add --attended", scene.Errors);
        Assert.Equal(0, scene.Person.Confirmed);
        Assert.DoesNotContain(scene.Board.Controller.Taken, line => line.StartsWith("$J", StringComparison.Ordinal) || line == "$H");
    }

    [Fact]
    public async Task Words_typed_before_the_prompt_move_nothing_and_those_after_it_do()
    {
        using var scene = new AttendedScene(Folder, "axis-scale", AxisName.X, (person, prompt) =>
        {
            if (prompt.StartsWith("ask confirm tight", StringComparison.Ordinal))
            {
                person.Type("yes");
                person.Type("go home");
                return true;
            }

            if (!prompt.StartsWith("ask motion", StringComparison.Ordinal))
                return false;
            person.Type("q");
            return true;
        });
        await scene.RunAsync("--attended", "--instrument", "caliper 150");
        Assert.Contains("1 lines typed before this prompt are not used.", scene.Person.Seen);
        Assert.DoesNotContain("$H", scene.Board.Controller.Taken);
    }

    /// <summary>Found in use: hazards, blocks and zero were asked for and the controller unlocked before it was said that nothing would move.</summary>
    [Theory]
    [InlineData("axis-scale", AxisName.X, "these checks are not passed yet: P05, P06, P07, P08, P22, P30", "procedure run readiness")]
    [InlineData("first-moves", null, "these checks are not passed yet: P05, P06, P07, P08, P22, P30", "procedure run readiness")]
    [InlineData("axis-scale", AxisName.X, "the direction of every axis is to be checked first (P25)", "procedure run first-moves", "P25")]
    [InlineData("bed-map", null, "the watched slow homing test (P27) comes first", "procedure run first-moves", "P27")]
    public async Task With_checks_missing_the_run_says_which_before_its_first_question_and_nothing_is_opened(string id, AxisName? axis, string why, string remedy, string? open = null)
    {
        using var scene = new AttendedScene(Folder, id, axis, ready: open is not null, open: open);
        Assert.Equal(ExitCode.BadRequest, await scene.RunAsync("--attended", "--instrument", id == "axis-scale" ? "caliper 150" : "indicator"));
        Assert.Contains("nothing would move over the link: " + why, scene.Errors, StringComparison.Ordinal);
        Assert.Contains(remedy, scene.Errors, StringComparison.Ordinal);
        Assert.DoesNotContain("ask ", scene.Person.Seen, StringComparison.Ordinal);
        Assert.Empty(scene.Board.Controller.Taken);
        Assert.DoesNotContain(scene.Entries(), entry => entry.Body is EntryBody.RunStarted);
    }

    /// <summary>The list that holds the checks is what they are passed by: it is carried out while they are open.</summary>
    [Fact]
    public async Task The_first_moves_are_carried_out_while_the_checks_that_they_hold_are_open()
    {
        using var scene = new AttendedScene(Folder, "first-moves", axis: null, open: "P25 P27");
        var code = await scene.RunAsync("--attended");
        Assert.True(code == ExitCode.Done && scene.Person.Seen.Contains("The run is complete.", StringComparison.Ordinal), scene.Person.Seen + scene.Errors);
        Assert.Equal(["$J=G21G91X1F100", "$J=G21G91Y1F100", "$J=G21G91Z1F100", "$H"], scene.Board.Controller.Taken.Where(line => line[..2] is "$J" or "$H"));
        // Each was entered before it was made, as on the screens.
        var bodies = scene.Entries().Select(entry => entry.Body).ToList();
        Assert.Equal(["X to the right, 1.0 mm", "Y away from you, 1.0 mm", "Z up, 1.0 mm", "homing"], bodies.Select(body => body.Begun()).OfType<string>());
        Assert.All(bodies.Select((body, at) => (body, at)).Where(one => one.body.Begun() is not null), one => Assert.IsType<EntryBody.Moved>(bodies[one.at + 1]));
    }

    /// <summary>Found in use: S answered the hazards and the blocks, and at the port it lost the run.</summary>
    [Theory]
    [InlineData("s")]
    [InlineData("S")]
    [InlineData("y")]
    [InlineData("yes")]
    public async Task Every_confirm_of_a_linked_run_takes_yes_y_and_S_and_asks_again_where_an_answer_is_none(string yes)
    {
        var asked = new HashSet<string>();
        using var scene = new AttendedScene(Folder, "axis-scale", AxisName.X, (person, prompt) =>
        {
            if (prompt.StartsWith("ask motion", StringComparison.Ordinal))
                person.Type("q");
            else if (prompt.StartsWith("ask confirm", StringComparison.Ordinal))
                person.Type(asked.Add(prompt) ? "perhaps" : yes);
            else
                return false;
            return true;
        });
        await scene.RunAsync("--attended", "--instrument", "caliper 150");
        Assert.True(scene.Person.Seen.Contains("ask motion ", StringComparison.Ordinal), scene.Person.Seen + scene.Errors);
        Assert.Equal(["port:", "hazards:", "blocks:", "tight:"], asked.Select(prompt => prompt.Split(' ')[2]));
        Assert.Contains("yes or S", asked.First(), StringComparison.Ordinal);
    }

    /// <summary>Found in use: a port that did not open took all that had been answered with it.</summary>
    [Fact]
    public async Task A_port_that_does_not_open_is_asked_for_again_and_the_run_goes_on_over_the_one_that_does()
    {
        var asked = new List<string>();
        var board = "";
        using var scene = new AttendedScene(Folder, "axis-scale", AxisName.X, (person, prompt) =>
        {
            if (prompt.StartsWith("ask text port: ", StringComparison.Ordinal))
            {
                asked.Add(prompt);
                person.Type(asked.Count switch { 1 => "", 2 => "COM99", _ => board });
            }
            else if (prompt.StartsWith("ask motion", StringComparison.Ordinal))
                person.Type("q");
            else
                return false;
            return true;
        })
        { Named = "/dev/null" };
        board = scene.Board.Options[1];
        await scene.RunAsync("--instrument", "caliper 150");
        Assert.Equal(3, asked.Count);
        Assert.Equal("ask text port: Over which port? Empty or R tries /dev/null again, a name opens that one, Q ends here.", asked[0]);
        Assert.Contains("there is no port 'COM99'", scene.Errors, StringComparison.Ordinal);
        Assert.True(scene.Person.Seen.Contains("ask motion ", StringComparison.Ordinal), scene.Person.Seen + scene.Errors);
    }

    [Fact]
    public async Task Who_ends_at_the_port_has_begun_nothing()
    {
        using var scene = new AttendedScene(Folder, "axis-scale", AxisName.X, (person, prompt) =>
        {
            if (!prompt.StartsWith("ask text port: ", StringComparison.Ordinal))
                return false;
            person.Type("q");
            return true;
        })
        { Named = "/dev/null" };
        Assert.Equal(ExitCode.Failed, await scene.RunAsync("--instrument", "caliper 150"));
        Assert.DoesNotContain(scene.Entries(), entry => entry.Body is EntryBody.RunStarted);
    }

    [Fact]
    public async Task A_line_typed_while_it_moves_stops_and_the_run_goes_on_after_it_was_read()
    {
        var stopped = false;
        using var scene = new AttendedScene(Folder, "recheck", AxisName.X, (person, prompt) =>
        {
            if (!stopped && prompt.Contains(". go X", StringComparison.Ordinal))
            {
                stopped = true;
                person.Slow();
                person.Type(prompt[(prompt.LastIndexOf("go X", StringComparison.Ordinal))..]);
                person.WhenMoving(() => person.Type(""));
                return true;
            }

            return false;
        });
        // Slow only until it has stopped: what follows needs no waiting.
        scene.Board.Controller.StopTaken += scene.Board.Fast;
        var code = await scene.RunAsync("--attended", "--instrument", "indicator");
        Assert.True(code is ExitCode.Done or ExitCode.Outside or ExitCode.Undecided, scene.Person.Seen + scene.Errors);
        Assert.Contains("a line was typed", scene.Person.Seen);
        Assert.Contains(scene.Entries(), entry => entry.Body is EntryBody.Stopped);
        // Once at the beginning, and again after the stop; once more where the board's late greeting was a second thing to read.
        Assert.True(scene.Board.Controller.Taken.Count(line => line == "$H") >= 2, scene.Person.Seen + string.Join(" ; ", scene.Board.Controller.Taken));
    }

    // Found by a run that failed now and then: the gate was asked by the facts of before the crash, and moved on without its checks.
    [Fact]
    public async Task After_a_stop_that_may_have_hit_something_nothing_moves_before_the_checks_are_made_again()
    {
        var stopped = false;
        using var scene = new AttendedScene(Folder, "recheck", AxisName.X, (person, prompt) =>
        {
            if (stopped || !prompt.Contains(". go X", StringComparison.Ordinal))
                return false;
            stopped = true;
            person.AfterStop = "O";
            person.Slow();
            person.Type(prompt[prompt.LastIndexOf("go X", StringComparison.Ordinal)..]);
            person.WhenMoving(() => person.Type(""));
            return true;
        });
        scene.Board.Controller.StopTaken += scene.Board.Fast;
        Assert.Equal(ExitCode.BadRequest, await scene.RunAsync("--attended", "--instrument", "indicator"));
        Assert.Contains("these checks are not passed yet: P05", scene.Errors, StringComparison.Ordinal);
        Assert.Contains(scene.Entries(), entry => entry.Body is EntryBody.ChangeTold { Change: "crash" });
        Assert.Single(scene.Board.Controller.Taken, line => line == "$H");
    }
}

using System.Runtime.Versioning;
using Commission.App.CommandLine;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;
using Commission.Core.Procedures;
using Commission.Practice.Bench;
using Commission.Practice.Controller;
using Commission.Practice.Machines;
using Commission.Workshop.Requests;
using Xunit;

namespace Commission.App.Tests.Attended;

/// <summary><c>procedure run ID --port … --attended</c>, from the typed words to the practice controller behind a pseudo-terminal and back.</summary>
[UnsupportedOSPlatform("windows")]
public sealed class AttendedRunTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("commission-attended-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    /// <summary>Every shipped procedure whose readings lie at places that the machine is moved to.</summary>
    private static readonly (string Id, AxisName? Axis, string Kind, string Parameter)[] Moving =
    [
        ("axis-scale", AxisName.X, "axis-scale", "scaleError"),
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
        Assert.Equal(moving.Order(), Moving.Select(one => one.Id).Order());
    }

    /// <summary>All at once: they mostly wait for their machines.</summary>
    [Fact]
    public async Task Every_moving_procedure_is_carried_out_over_the_link_and_finds_what_is_true()
    {
        var runs = Moving.Select(one => Task.Run(async () =>
        {
            using var scene = new AttendedScene(folder, one.Id, one.Axis);
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

    [Fact]
    public async Task Without_a_terminal_and_without_attended_nothing_moves()
    {
        using var scene = new AttendedScene(folder, "axis-scale", AxisName.X);
        Assert.Equal(ExitCode.BadRequest, await scene.RunAsync("--instrument", "caliper 150"));
        Assert.Contains("add --attended", scene.Errors);
        Assert.Equal(0, scene.Person.Confirmed);
        Assert.DoesNotContain(scene.Board.Controller.Taken, line => line.StartsWith("$J", StringComparison.Ordinal) || line == "$H");
    }

    [Fact]
    public async Task Words_typed_before_the_prompt_move_nothing_and_those_after_it_do()
    {
        using var scene = new AttendedScene(folder, "axis-scale", AxisName.X, (person, prompt) =>
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

    [Fact]
    public async Task With_checks_missing_the_run_says_which_and_nothing_moves()
    {
        using var scene = new AttendedScene(folder, "axis-scale", AxisName.X, ready: false);
        Assert.Equal(ExitCode.BadRequest, await scene.RunAsync("--attended", "--instrument", "caliper 150"));
        Assert.Contains("P05, P06, P07, P08, P22, P30", scene.Person.Seen);
        Assert.DoesNotContain("$H", scene.Board.Controller.Taken);
    }

    [Fact]
    public async Task A_line_typed_while_it_moves_stops_and_the_run_goes_on_after_it_was_read()
    {
        var stopped = false;
        using var scene = new AttendedScene(folder, "recheck", AxisName.X, (person, prompt) =>
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
        var code = await scene.RunAsync("--attended", "--instrument", "indicator");
        Assert.True(code is ExitCode.Done or ExitCode.Outside or ExitCode.Undecided, scene.Person.Seen + scene.Errors);
        Assert.Contains("a line was typed", scene.Person.Seen);
        Assert.Contains(scene.Entries(), entry => entry.Body is EntryBody.Stopped);
        // Once at the beginning, and again after the stop; once more where the board's late greeting was a second thing to read.
        Assert.True(scene.Board.Controller.Taken.Count(line => line == "$H") >= 2, scene.Person.Seen + string.Join(" ; ", scene.Board.Controller.Taken));
    }
}

using Commission.App.CommandLine;
using Commission.App.Plain;
using Commission.App.Tests.CommandLine;
using Commission.App.Tests.Screens;
using Commission.Core;
using Commission.Core.Instruments;
using Commission.Core.Procedures;
using Commission.Practice.Machines;
using Commission.Tests;
using Commission.Workshop.Requests;
using Commission.Workshop.Sessions;

namespace Commission.App.Tests.Plain;

/// <summary>A pipe that says the same for ever: every shipped procedure comes to an end, is told why, and goes on where it stood when it is begun again.</summary>
public sealed class EndlessAnswersTests
{
    private const int MostQuestions = 1500;

    private static readonly string[] Answers = ["y", "yes", "", "o", "r", "s", "a", "again", "no", "1", "0", "1,234", "x slipped", "skip because"];

    private static readonly string[] Kinds = ["choose", "number", "text"];

    public static TheoryData<string> Ids => [.. OrderOfWork.Ids];

    [Theory]
    [MemberData(nameof(Ids))]
    public async Task An_endless_input_of_one_answer_ends(string id)
    {
        foreach (var answer in Answers)
            await Ends(id, (_, _) => answer, answer);
    }

    // Whoever confirms everything and answers one kind of question always alike.
    [Theory]
    [MemberData(nameof(Ids))]
    public async Task An_endless_input_of_one_answer_to_one_kind_of_question_ends(string id)
    {
        foreach (var kind in Kinds)
        {
            foreach (var answer in Answers)
                await Ends(id, (asked, question) => asked == kind ? answer : Sensible(asked, question), $"{answer} to {kind}");
        }
    }

    [Theory]
    [InlineData("y")]
    [InlineData("")]
    [InlineData("machine")]
    [InlineData("1")]
    public async Task At_the_bench_it_ends_with_a_sentence(string answer)
    {
        var ending = await Typed.RunWith(string.Concat(Enumerable.Repeat(answer + "\n", 400)), "--plain");
        Assert.Equal(ExitCode.BadRequest, ending.Code);
        Assert.Contains("30 answers in a row brought nothing new", ending.Error, StringComparison.Ordinal);
        Assert.True(ending.Lines.Count(line => line.StartsWith("ask ", StringComparison.Ordinal)) < 50);
    }

    [Fact]
    public void Who_gets_on_is_not_stopped_however_often_the_same_is_asked()
    {
        var answers = new AnswersWithoutEnd();
        for (var request = 0; request < 3 * AnswersWithoutEnd.Most; request++)
        {
            Assert.Null(answers.Asking("ask choose request: which?", ""));
            answers.Forward();
        }
    }

    private static async Task Ends(string id, Func<string, string, string> answer, string how)
    {
        using var journal = PracticeStore.Journal(KnownMachine.Clock());
        var request = Request(id);
        var session = ProcedureSession.Open(journal, request).Require();
        using var output = new LastLine();
        using var error = new StringWriter();
        using var input = new Endless(output, answer, $"{id}: {how}");
        var code = await new PlainFront(input, output, error).RunAsync(session, TestContext.Current.CancellationToken);
        if (session.Needs is Need.Ended)
            return;
        Assert.Equal(ExitCode.BadRequest, code);
        Assert.Contains("30 answers in a row brought nothing new; The run is kept as it stands: start the procedure again", error.ToString().Replace(". ", "; ", StringComparison.Ordinal), StringComparison.Ordinal);
        var again = ProcedureSession.Open(journal, request).Require();
        Assert.True(again.Resumed, how);
        Assert.Equal(session.Needs.Step, again.Needs.Step);
    }

    private static string Sensible(string kind, string question) => kind switch
    {
        "number" => "5",
        "choose" when question.Contains("One of: ", StringComparison.Ordinal) => question.Split("One of: ")[1].Split([',', ';', '.'])[0],
        "choose" => "o",
        "text" => "12",
        _ => "yes",
    };

    // What has switches homes by them and needs no corner.
    private static Machine WithoutSwitches => HeronMachine.Description with
    {
        X = HeronMachine.Description.X with { Switches = Switches.None },
        Y = HeronMachine.Description.Y with { Switches = Switches.None },
        Z = HeronMachine.Description.Z with { Switches = Switches.None },
    };

    private static SessionRequest Request(string id)
    {
        var procedure = ShippedProcedures.Read(id);
        Instrument[] kit =
        [
            new("caliper-150", InstrumentKind.CaliperDigital, 0.03, 0.01, 150, "invented"), new("indicator", InstrumentKind.Indicator, 0.005, 0.001, 5, "invented"),
            new("tape", InstrumentKind.Tape, 0.5, 0.1, 3000, "invented"),
        ];
        return new SessionRequest
        {
            Procedure = procedure, ProcedureHash = id, Machine = id == "reference-corner" ? WithoutSwitches : HeronMachine.Description, Axis = procedure.ForOneAxis ? AxisName.X : null,
            Instrument = KitChoice.For(procedure, kit, null), Instruments = [.. kit], Owned = [.. Enum.GetValues<InstrumentKind>()], Seed = 1, Resume = true,
        };
    }

    private sealed class LastLine : StringWriter
    {
        public string Last { get; private set; } = "";

        public override void WriteLine(string? value) => Last = value ?? "";
    }

    private sealed class Endless(LastLine asked, Func<string, string, string> answer, string how) : TextReader
    {
        private int questions;

        public override string? ReadLine()
        {
            Assert.True(++questions < MostQuestions, $"{how} goes on for ever at: {asked.Last}");
            return answer(asked.Last.Split(' ')[1], asked.Last);
        }
    }
}

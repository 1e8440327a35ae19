using System.Text.RegularExpressions;
using Commission.App.CommandLine;
using Commission.App.Tests.CommandLine;

namespace Commission.App.Tests.Plain;

/// <summary>Practice by question and answer: the same front on the practice machine, its instruments and its controller.</summary>
public sealed partial class PlainPracticeTests : TypedRequests
{
    [Fact]
    public async Task With_plain_and_a_person_typing_rehearse_asks_and_says_PRACTICE_in_its_first_line()
    {
        var (code, person, error) = await Practise(Asked(("request", ["procedure", "machine", "quit"]), ("procedure", ["list"]), ("machine", ["list"])), []);
        Assert.Equal(ExitCode.Done, code);
        Assert.StartsWith("PRACTICE. Machine, instruments and controller are simulated; nothing is kept.", person.Lines[0], StringComparison.Ordinal);
        Assert.Contains(person.Lines, line => line.StartsWith("ask choose request: PRACTICE. ", StringComparison.Ordinal));
        Assert.Contains(person.Lines, line => line.StartsWith("Heron", StringComparison.Ordinal));
        Assert.DoesNotContain(person.Lines, line => line.Contains("rehearse", StringComparison.Ordinal));
        Assert.Equal("", error);
    }

    // The contract: a script that pipes nothing gets the walk.
    [Fact]
    public async Task Without_a_person_typing_it_walks_and_says_so()
    {
        var ending = await Typed.Run("rehearse", "--plain");
        Assert.Equal("Without a usable terminal the simulated operator walks.", ending.Lines[0]);
        Assert.Contains(ending.Lines, line => line.Contains("ended: completed", StringComparison.Ordinal));
        Assert.DoesNotContain(ending.Lines, line => line.StartsWith("ask ", StringComparison.Ordinal));
    }

    [Fact]
    public async Task The_simulated_instrument_is_looked_at_with_V_taken_with_T_or_its_reading_typed()
    {
        var readings = 0;
        string? Answer(string prompt) => Name(prompt) switch
        {
            "request" => readings == 0 ? "procedure" : "quit",
            "procedure" => "run",
            "id" => "axis-scale",
            "axis" => "X",
            var name when name.StartsWith("scale/", StringComparison.Ordinal) => ++readings switch { 1 => "v", 2 => "t", 3 => "v", _ => "q" },
            _ => Usual(prompt),
        };
        var (code, person, _) = await Practise(Answer, []);
        Assert.Equal(ExitCode.Done, code);
        var shown = person.Lines.Select(line => Shown().Match(line)).Where(match => match.Success).Select(match => match.Groups[1].Value).ToArray();
        Assert.Equal(3, shown.Length);
        Assert.Equal(shown[0], shown[1]);
        Assert.Contains("recorded 1", person.Lines);
        Assert.DoesNotContain("recorded 2", person.Lines);
        Assert.Contains($"reading 1 of 10 is {shown[0]} mm.", person.Lines);
        Assert.Contains(person.Lines, line => line.StartsWith("PRACTICE. Procedure ", StringComparison.Ordinal));
    }

    [Fact]
    public async Task What_was_practised_is_kept_in_the_folder_named_and_goes_on_there()
    {
        string? Answer(string prompt) => Name(prompt) switch { "request" => "procedure", "procedure" => "run", "id" => "axis-scale", "axis" => "X", "scale/1" => "t", "scale/2" => null, _ => Usual(prompt) };
        await Practise(Answer, ["--keep", "--store", Store]);
        var (_, person, _) = await Practise(prompt => Name(prompt) == "scale/2" ? "q" : Name(prompt) == "request" && prompt.Length > 0 && readingsSeen ? "quit" : Seen(Answer(prompt), prompt), ["--keep", "--store", Store]);
        Assert.Contains(person.Lines, line => line == "On disk and checked: 1 of 10 readings of this step.");
        Assert.Contains("kept in", person.Lines[0], StringComparison.Ordinal);
        // It stays practice: nobody writes to it as to a real machine.
        Assert.Equal(ExitCode.Failed, (await Run("history", "note", "mine")).Code);
    }

    [Fact]
    public async Task A_whole_procedure_is_taken_from_the_simulated_instrument_to_its_finding()
    {
        var done = false;
        string? Answer(string prompt)
        {
            if (Name(prompt) == "request")
            {
                if (done)
                    return "quit";
                done = true;
                return "procedure";
            }

            return Name(prompt) switch { "procedure" => "run", "id" => "axis-scale", "axis" => "X", var name when name.StartsWith("scale/", StringComparison.Ordinal) => "t", _ => Usual(prompt) };
        }

        var (_, person, _) = await Practise(Answer, []);
        Assert.Contains(person.Lines, line => line.StartsWith("finding ", StringComparison.Ordinal));
        Assert.Contains("PRACTICE: found on the simulated machine.", person.Lines);
    }

    // The gate is the one of a real machine: nothing moves before the readiness list is passed, then each move has its token.
    [Fact]
    public async Task The_practice_controller_is_opened_as_link_and_each_move_asks_for_its_token()
    {
        var requests = new Queue<string>(["readiness", "first-moves", "axis-scale"]);
        var moves = 0;
        string? running = null;
        string? Answer(string prompt)
        {
            var name = Name(prompt);
            if (name == "request")
                return requests.TryDequeue(out running) ? "procedure" : "quit";
            if (name == "scale/1")
                return "q";
            if (Kind(prompt) == "motion")
            {
                moves++;
                return Token().Match(prompt).Groups[1].Value;
            }

            return name switch { "procedure" => "run", "id" => running, "axis" => "X", "port" when Kind(prompt) == "choose" => running == "readiness" ? "" : "practice controller", _ => Usual(prompt) };
        }

        var (_, person, error) = await Practise(Answer, []);
        Assert.True(person.Lines.Any(line => line.StartsWith("ask motion ", StringComparison.Ordinal)), string.Join('\n', person.Lines) + error);
        Assert.All(person.Lines.Where(line => line.StartsWith("ask motion ", StringComparison.Ordinal)), line => Assert.Contains(": PRACTICE. ", line, StringComparison.Ordinal));
        Assert.True(moves > 0);
        Assert.True(person.Lines.Any(line => line.StartsWith("ask number scale/1: ", StringComparison.Ordinal)), string.Join('\n', person.Lines) + error);
    }

    // Found in use: a port that was typed wrong was told only when everything else had been answered, and all of it was gone.
    [Fact]
    public async Task A_port_that_is_not_there_is_asked_for_again_before_anything_else_is_asked()
    {
        var ports = new Queue<string>(["COM9", "practice"]);
        string? Answer(string prompt) => Name(prompt) switch
        {
            "request" => ports.Count > 0 ? "procedure" : "quit",
            "procedure" => "run",
            "id" => "gauge-study",
            "port" when Kind(prompt) == "choose" => ports.Dequeue(),
            "port" => "no",
            _ => Usual(prompt),
        };
        var (_, person, error) = await Practise(Answer, []);
        Assert.Contains("there is no port 'COM9'", error, StringComparison.Ordinal);
        Assert.Equal(2, person.Lines.Count(line => line.StartsWith("ask choose port: ", StringComparison.Ordinal)));
    }

    // In a terminal that cannot place text: from the first line to the reading that was taken, with a controller written to over the practice link.
    [Fact]
    public void In_a_dumb_terminal_a_person_practises_from_end_to_end()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there is no such terminal here");
        using var terminal = new Screens.Tmux(200, 50, $"env LC_ALL=C TERM=dumb {Screens.Tmux.Program} rehearse --plain");
        void Answer(string prompt, string answer)
        {
            terminal.Until(screen => screen.Split('\n').LastOrDefault(line => line.StartsWith("ask ", StringComparison.Ordinal))?.Contains(prompt, StringComparison.Ordinal) == true, prompt);
            terminal.Send(answer.Length > 0 ? [answer, "Enter"] : ["Enter"]);
        }

        terminal.Until(screen => screen.Contains("PRACTICE. Machine, instruments and controller are simulated", StringComparison.Ordinal), "practice");
        foreach (var (prompt, answer) in new[]
        {
            ("choose request", "procedure"), ("choose procedure", "run"), ("choose id", "axis-scale"), ("choose port", ""), ("choose more", ""), ("choose axis", "X"),
            ("confirm hazards", "s"), ("confirm blocks", "s"), ("confirm tight", "s"), ("scale/1", "v"), ("scale/1", "t"), ("scale/2", "q"), ("choose request", "quit"),
        })
            Answer(prompt, answer);
        var screen = terminal.Until(shown => shown.Contains("Practice is put away. Nothing of it was kept.", StringComparison.Ordinal), "the end");
        Assert.Contains("recorded 1", screen, StringComparison.Ordinal);
        Assert.Matches(@"The simulated instrument shows -?[0-9.]+ mm here\.", screen);
    }

    private bool readingsSeen;

    private string? Seen(string? answer, string prompt)
    {
        readingsSeen |= Name(prompt) == "id";
        return answer;
    }

    private static string Kind(string prompt) => prompt.Split(' ')[1];

    private static string Name(string prompt) => prompt.Split(' ')[2].TrimEnd(':');

    // Whoever is asked for nothing in particular: empty where nothing is needed, a number inside, else yes.
    private static string Usual(string prompt) => prompt.Contains("mpty", StringComparison.Ordinal) ? "" : Kind(prompt) switch { "number" => "1", "text" => "o", _ => "yes" };

    private static Func<string, string?> Asked(params (string Name, string[] Answers)[] given)
    {
        var queues = given.ToDictionary(one => one.Name, one => new Queue<string>(one.Answers));
        return prompt => queues.TryGetValue(Name(prompt), out var queue) && queue.TryDequeue(out var answer) ? answer : Usual(prompt);
    }

    private static async Task<(int Code, AnsweringPerson Person, string Error)> Practise(Func<string, string?> answer, string[] more)
    {
        var person = new AnsweringPerson(answer);
        using var error = new StringWriter { NewLine = "\n" };
        var here = new Surroundings { In = person.Keyboard, Out = person, Error = error, InputIsTerminal = true, PracticeScale = 300, DefaultStore = Path.Combine(Path.GetTempPath(), "commission-tests-no-store") };
        var code = await Composition.Compose(here).RunAsync(["rehearse", "--plain", "--seed", "3", .. more], TestContext.Current.CancellationToken);
        return (code, person, error.ToString());
    }

    [GeneratedRegex(@"^The simulated instrument shows (-?[0-9.]+) mm here\.$")]
    private static partial Regex Shown();

    [GeneratedRegex(@"\. (go \S+|go home|unlock|set reference [XYZ])$")]
    private static partial Regex Token();
}

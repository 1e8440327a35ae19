using Commission.App.Plain;
using Commission.Core.Characteristics;
using Commission.Tests;
using Commission.Workshop.Sessions;

namespace Commission.App.Tests.Plain;

/// <summary>What a run finds, as it is told question by question.</summary>
public sealed class PlainFindingTests
{
    // Found in use: "scaleError", "scaleErrorGivenGrade" and "zero: -134.929", without a word on what that is over the work or what comes next.
    [Theory]
    [InlineData("axis-scale", "Finding. Scale X is plus ")]
    [InlineData("backlash", "Finding. Lost motion X is ")]
    public async Task A_finding_has_the_names_of_the_trade_and_says_what_comes_next(string id, string headline)
    {
        var lines = await Found(id);
        var at = Array.FindIndex(lines, line => line.StartsWith(headline, StringComparison.Ordinal));
        Assert.True(at > 0, string.Join('\n', lines));
        var names = CharacteristicKinds.All.SelectMany(kind => kind.Parameters).Select(parameter => parameter.Name).Where(name => name.Any(char.IsUpper)).ToArray();
        Assert.All(lines, line => Assert.DoesNotContain(names, name => line.Contains(name, StringComparison.Ordinal)));
        Assert.Contains(lines[at..], line => line.StartsWith("next: ", StringComparison.Ordinal));
        Assert.Contains(lines[at..], line => line.StartsWith("finding ", StringComparison.Ordinal) && line.Split(' ').Length == 3);
        Assert.Contains("The run is complete. What is to be done next: history next.", lines);
    }

    [Fact]
    public async Task A_scale_means_millimetres_over_the_length_of_the_work_and_its_lost_motion_is_no_reversal_value()
    {
        var lines = await Found("axis-scale");
        Assert.Contains(lines, line => System.Text.RegularExpressions.Regex.IsMatch(line, @"^Finding\. Scale X is plus \d+ ppm, U \d+ ppm, k \d\.\d\d, 95 percent\.$"));
        Assert.Contains(lines, line => line.StartsWith("meaning: over 420 mm axis X goes ", StringComparison.Ordinal) && line.Contains(" mm too ", StringComparison.Ordinal));
        Assert.Contains(lines, line => line.StartsWith("  lost motion is ", StringComparison.Ordinal));
        Assert.Contains(lines, line => line.StartsWith("  reading at commanded 0 is minus ", StringComparison.Ordinal));
        Assert.Contains(lines, line => line.StartsWith("  scale error, the grade of the drive counted in is plus ", StringComparison.Ordinal));
    }

    // Found by use: twelve values of the standard, each with the same reason, stood between what was found and what to do; the limit was "class of work: wood".
    [Fact]
    public async Task The_answer_comes_last_and_the_limit_has_its_number()
    {
        var lines = await Found("backlash", WorkClass.Wood);
        var end = Array.FindIndex(lines, line => line.StartsWith("finding ", StringComparison.Ordinal));
        Assert.StartsWith("Finding. Lost motion X is ", lines[end - 5], StringComparison.Ordinal);
        Assert.Equal("limit: 0.15 mm (class of work: wood)", lines[end - 4]);
        Assert.Equal(["verdict", "advice", "next"], lines[(end - 3)..end].Select(line => line.Split(':')[0]));
        Assert.Single(lines, line => line.Contains("ISO 230-2, each a range of means and scatters", StringComparison.Ordinal));
    }

    private static async Task<string[]> Found(string id, WorkClass work = default)
    {
        using var journal = PlainFrontTests.Journal();
        var shown = PlainFrontTests.Readings(0, 10, 300e-6).ToArray();
        var person = new AnsweringPerson(prompt =>
        {
            var name = prompt.Split(' ')[2].TrimEnd(':');
            return !prompt.StartsWith("ask number ", StringComparison.Ordinal) ? prompt.StartsWith("ask text ", StringComparison.Ordinal) ? "o" : "yes"
                : name.StartsWith("scale/", StringComparison.Ordinal) ? shown[int.Parse(name[6..], System.Globalization.CultureInfo.InvariantCulture) - 1]
                : prompt.Contains("Come from below", StringComparison.Ordinal) ? "0.05" : "0.00";
        });
        var session = ProcedureSession.Open(journal, Of(PlainFrontTests.Request(null), id, work)).Require();
        await new PlainFront(person.Keyboard, person, person).RunAsync(session, TestContext.Current.CancellationToken);
        return [.. person.Lines];
    }

    private static SessionRequest Of(SessionRequest request, string id, WorkClass work) => request with { Procedure = ShippedProcedures.Read(id), Machine = request.Machine with { Class = work == default ? request.Machine.Class : work } };
}

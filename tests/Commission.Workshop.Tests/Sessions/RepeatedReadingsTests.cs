using System.Globalization;
using Commission.Core.Procedures;
using Commission.Tests;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Tests.Sessions;

/// <summary>A reading far from what the instrument read at the same place before is asked about while the instrument is still there.</summary>
public sealed class RepeatedReadingsTests
{
    private static string? AfterThe(string[] before, string typed)
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "gauge-study", null, Invented.Caliper);
        Answers.UntilReading(session);
        foreach (var one in before)
            session.Read(one, Value(one)).Require();
        Assert.IsNotType<Need.SlipQuestion>(session.Needs);
        session.Read(typed, Value(typed)).Require();
        return (session.Needs as Need.SlipQuestion)?.Reason;
    }

    private static double Value(string typed) => double.Parse(typed, CultureInfo.InvariantCulture);

    [Fact]
    public void Two_digits_that_changed_places_are_named() => Assert.Equal(
        "98.70 lies 9.00 mm from what it read there before; perhaps 9 and 8 swapped", AfterThe(["89.70", "89.71", "89.69"], "98.70"));

    [Theory]
    [InlineData("89.74")]
    [InlineData("89.62")]
    public void What_a_hand_scatters_is_not_asked_about(string typed) => Assert.Null(AfterThe(["89.70", "89.71", "89.69"], typed));

    // Nobody can say yet which of them is the odd one.
    [Fact]
    public void Two_readings_are_too_few_to_ask() => Assert.Null(AfterThe(["89.70", "89.71"], "98.70"));

    [Fact]
    public void What_scatters_widely_by_itself_is_left_to_the_finding() => Assert.Null(AfterThe(["89.1", "89.7", "90.4"], "91.9"));

    [Fact]
    public void Another_thing_is_another_place()
    {
        string[] first = [.. Enumerable.Range(0, 10).Select(i => (89.7 + (i % 2 * 0.01)).ToString("F2", CultureInfo.InvariantCulture))];
        Assert.Null(AfterThe(first, "20.01"));
    }
}

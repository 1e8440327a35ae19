using Commission.App.Screens;
using Commission.Core.History;
using Commission.Workshop.Ports;
using Microsoft.Extensions.Time.Testing;
using Xunit;
using static Commission.App.Tests.Screens.LinkedWindow;

namespace Commission.App.Tests.Screens;

/// <summary>False trips counted over the link by the step that asks for them.</summary>
public sealed class NoiseOverTheLinkTests : IDisposable
{
    private readonly FakeTimeProvider _clock = KnownMachine.Clock();
    private readonly MemoryJournal _journal;

    public NoiseOverTheLinkTests() => _journal = KnownMachine.Journal(_clock);

    public void Dispose() => _journal.Dispose();

    // Half an hour, an hour with the lid closed, half an hour: the running clock stands still while the calendar goes on.
    [Fact]
    public void The_step_counts_the_hours_itself_leaves_out_the_sleep_and_takes_the_trips_of_just_these_hours()
    {
        using var window = Open();
        Link(window);
        window.Type("w\n");
        window.Type("s");
        window.Type("\n");
        Assert.Contains("The link counts since", window.Rows[21], StringComparison.Ordinal);
        HalfAnHour();
        _clock.AdjustTime(_clock.GetUtcNow() + TimeSpan.FromHours(1));
        HalfAnHour();
        window.Type("v");
        Assert.Contains("in 2 pieces; 1 h between them were not seen", window.Rows[20] + window.Rows[21], StringComparison.Ordinal);
        window.Type("\n");
        HalfAnHour();
        window.Type("\n");
        var checks = Ledger.From(_journal.Entries()).Checks.Select(made => made.Body).Where(made => made.Check is "hours" or "trips").ToDictionary(made => made.Check);
        Assert.InRange(checks["hours"].Value!.Value, 0.999, 1.0);
        Assert.StartsWith("Watched 1 h in 2 pieces", checks["hours"].Typed, StringComparison.Ordinal);
        Assert.Equal((0.0, checks["hours"].Typed), (checks["trips"].Value!.Value, checks["trips"].Typed));
        Assert.Equal(2.996, Ledger.From(_journal.Entries()).Findings.Values.Single().Made.Body.Finding.Headline.Value!.Value, 2);
    }

    [Fact]
    public void Trips_of_hours_that_were_typed_are_not_taken_from_the_link()
    {
        using var window = Open();
        Link(window);
        window.Type("w\n");
        window.Type("s");
        window.Type("\n");
        window.Type("24\n");
        Assert.DoesNotContain("The link counts since", window.Text, StringComparison.Ordinal);
        window.Type("\n");
        Assert.DoesNotContain(Ledger.From(_journal.Entries()).Checks, made => made.Body.Check == "trips");
        window.Type("1\n");
        Assert.Equal(1, Ledger.From(_journal.Entries()).Checks[^1].Body.Value);
    }

    // The window goes as it goes when the program is killed: nothing is told to the journal any more.
    [Fact]
    public void A_count_outlives_the_program_and_the_time_until_it_is_taken_up_is_a_hole()
    {
        using (var killed = Open())
        {
            Link(killed);
            killed.Type("w\n");
            killed.Type("s");
            killed.Type("\n");
            HalfAnHour();
        }

        _clock.Advance(TimeSpan.FromHours(1));
        using var window = Open();
        Link(window);
        window.Type("w\n");
        window.Type("s");
        window.Type("\n");
        Assert.Contains("after 0.5 h kept. V tells the count.", window.Rows[21], StringComparison.Ordinal);
        HalfAnHour();
        window.Type("\n");
        var hours = Ledger.From(_journal.Entries()).Checks.Single(made => made.Body.Check == "hours").Body;
        Assert.InRange(hours.Value!.Value, 1 - (5 / 60.0), 1);
        Assert.Matches("in 2 pieces; 1(\\.0[0-9])? h between them were not seen", hours.Typed);
    }

    [Fact]
    public void Without_the_link_the_two_numbers_are_typed()
    {
        using var window = Open();
        window.Type("w\n");
        window.Type("s");
        window.Type("\n");
        Assert.Contains("Type the number in h.", window.Text, StringComparison.Ordinal);
        window.Type("\n");
        Assert.Contains("A number in h is wanted", window.Text, StringComparison.Ordinal);
        window.Type("24\n0\n");
        Assert.Equal(2.996 / 24, Ledger.From(_journal.Entries()).Findings.Values.Single().Made.Body.Finding.Headline.Value!.Value, 3);
    }

    // The timer must see each second by itself.
    private void HalfAnHour()
    {
        for (var i = 0; i < 1800; i++)
            _clock.Advance(TimeSpan.FromSeconds(1));
    }

    private Headless Open() => new(ScreenProgram.DeskOf(KnownMachine.Options(_journal, "noise") with { LinkClock = new PatientTime() }, _clock));
}

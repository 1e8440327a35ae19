using System.Diagnostics;
using Commission.Core.Procedures;
using Commission.Tests;
using Commission.Workshop.Screens.Pages;
using Terminal.Gui.Input;

namespace Commission.App.Tests.Screens;

/// <summary>A window over a link that lives in real time: opened by S, boxes read before their letter is typed.</summary>
internal static class LinkedWindow
{
    /// <summary>The screens on a practice link where the bench leads to a procedure of a test's own in place of the scale of an axis.</summary>
    /// <param name="journal">What is known of the machine.</param>
    /// <param name="clock">Clock of the desk; the link keeps the wall's.</param>
    /// <param name="steps">Its steps as YAML, by two blanks to the right; one instruction stands before them and one after.</param>
    public static Headless Of(IJournal journal, TimeProvider clock, string steps)
    {
        var procedure = ProcedureReader.Read("some-steps.yaml", $$"""
            format: commission.procedure/1
            id: axis-scale
            title: Some steps
            purpose: Makes some moves.
            minutes: 1
            hazards:
              - {what: The machine moves., do: Hands out.}
            steps:
              - {name: begin, instruct: Begin.}
            {{steps}}
              - {name: look, instruct: Then look.}
            evaluation: [Nothing is computed.]
            abort: [It goes elsewhere.]
            goodData: [It moved.]
            slips: [None.]
            """).Require();
        return new Headless(ScreenProgram.DeskOf(KnownMachine.Linked(journal) with { Procedures = [procedure] }, clock));
    }

    public static void Link(Headless window)
    {
        window.Type("c");
        Assert.Contains("//// HAZARD  Opening a port can restart the controller", window.Text, StringComparison.Ordinal);
        window.Press(Key.Enter);
        Assert.Contains("Enter opens no port", window.Text, StringComparison.Ordinal);
        window.Type("s");
        Until(window, "23 settings read");
    }

    /// <summary>Asks for one setting to be written, up to its box.</summary>
    public static void AskToWrite(Desk desk, Headless window)
    {
        desk.Link!.Plan(AxisName.Y, 319.606, writes => desk.Cover(new WritePage(desk, writes, "Heron / a write", null, null)));
        Until(window, "WRITE ONE SETTING");
    }

    /// <summary>Home, from the controller page to where it moves.</summary>
    public static void Homing(Headless window)
    {
        Until(window, "Home. Enter draws its box");
        window.Type("\n");
        Until(window, "THE MACHINE WILL MOVE");
        Confirm(window, "h", "EVERY KEY STOPS");
    }

    public static void Unlink(Headless window)
    {
        window.Type("c");
        window.Type("q");
        Until(window, "The link is closed.");
    }

    /// <summary>Until the sheet of a STOP tells when it was answered and when rest was first told.</summary>
    public static void Answered(Headless window)
    {
        for (var waits = 0; waits < 60 && window.Text.Contains("not yet", StringComparison.Ordinal); waits++)
            Rest(window);
    }

    // A box is read before its letter is typed.
    public static void Confirm(Headless window, string letter, params string[] shown)
    {
        Until(window, "Press " + letter.ToUpperInvariant());
        do
        {
            Rest(window);
            window.Type(letter, gapMs: 0);
            window.Advance(60);
            Until(window, [.. shown, TooEarly]);
        }
        while (!shown.Any(text => window.Text.Contains(text, StringComparison.Ordinal)));
    }

    // On a busy computer the link may not have had its half second yet: the box stays, and is read on.
    private const string TooEarly = "before the box could be read";

    public static void Until(Headless window, params string[] shown)
    {
        var watch = Stopwatch.StartNew();
        while (!shown.Any(text => window.Text.Contains(text, StringComparison.Ordinal)))
        {
            Assert.True(watch.Elapsed < Patience.Longest, $"Never shown: {string.Join(" or ", shown)}. The screen:\n{window.Text}");
            Pass(window);
        }
    }

    // The link lives in real time; the screen's own clock goes with it.
    public static long Pass(Headless window)
    {
        var watch = Stopwatch.StartNew();
        Thread.Sleep(20);
        var passed = watch.ElapsedMilliseconds;
        window.Advance((int)passed);
        return passed;
    }

    /// <summary>Lets a box be read.</summary>
    public static void Rest(Headless window)
    {
        for (var read = 0L; read < 700;)
            read += Pass(window);
    }
}

using Commission.Workshop.Screens.Pages;
using Microsoft.Extensions.Time.Testing;

namespace Commission.App.Tests.Screens;

/// <summary>Screens on a store in memory and on a clock that stands still, both each test's own.</summary>
public abstract class MemoryScreens : IDisposable
{
    private protected MemoryScreens(StoreNature nature) =>
        Journal = nature == StoreNature.Practice ? PracticeStore.Journal(Clock) : new MemoryJournal(nature, "real", "test", Clock);

    private protected FakeTimeProvider Clock { get; } = KnownMachine.Clock();

    private protected MemoryJournal Journal { get; }

    private protected Ledger Ledger => Ledger.From(Journal.Entries());

    private protected Desk DeskOf(ScreenOptions options) => ScreenProgram.DeskOf(options, Clock);

    private protected Headless On(ScreenOptions options, int width = 80, int height = 24) => new(DeskOf(options), width, height);

    public void Dispose()
    {
        Journal.Dispose();
        GC.SuppressFinalize(this);
    }
}

/// <summary>The screens on the practice machine whose work is done up to the scale of its axes.</summary>
public abstract class KnownScreens : MemoryScreens
{
    private protected KnownScreens()
        : base(StoreNature.Practice) => KnownMachine.Fill(Journal, Clock, KnownMachine.Seed);

    /// <summary>Opened on the bench, which leads to the scale of X.</summary>
    private protected Headless Open(int width = 80, int height = 24) => On(KnownMachine.Options(Journal), width, height);

    /// <summary>Opened, with its practice link open too.</summary>
    private protected Headless Linked(out Desk desk, double scale = 40)
    {
        desk = DeskOf(KnownMachine.Linked(Journal, scale));
        var window = new Headless(desk);
        LinkedWindow.Link(window);
        return window;
    }

    /// <summary>Linked, homed and moved by its boxes to the first reading of the scale of X.</summary>
    private protected Headless AtTheFirstReading()
    {
        var window = Linked(out _);
        window.Type("b\ns\ns");
        LinkedWindow.Confirm(window, "h", "THE CARRIAGE WILL MOVE");
        LinkedWindow.Confirm(window, "x", "reading 1 of 10 .");
        return window;
    }

    /// <summary>Opened, and led from the work through the route card of a procedure to its first step.</summary>
    private protected Headless AtFirstStep(string procedure, int width = 80, int height = 24)
    {
        var window = On(KnownMachine.Options(Journal, procedure), width, height);
        window.Type("w\ns");
        return window;
    }
}

/// <summary>The screens on a real machine over a controller that is met again at each opening.</summary>
public abstract class BoardScreens : MemoryScreens
{
    private protected BoardScreens(Machine machine)
        : base(StoreNature.Real) => Journal.Append(new EntryBody.MachineDescribed(machine, Retired: false) { Machine = machine.Name }).Require();

    private protected StoryBoard Board { get; } = new();

    private protected Desk Desk(params string[] procedures) =>
        DeskOf(PracticeStore.Options(Journal, 1) with { Procedures = PracticeStore.Shipped(procedures.Length == 0 ? ["axis-scale"] : procedures), Link = Board.Means(), LinkClock = new PatientTime() });
}

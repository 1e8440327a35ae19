using Commission.App.CommandLine;
using Commission.Core.History;
using Commission.Workshop.Ports;
using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Keys;
using Commission.Workshop.Screens.Pages;

namespace Commission.App.Screens;

/// <summary>The desk of the store, and in its place a practice desk while one is wanted: over a journal in memory, gone when it is left.</summary>
public sealed class PracticeDoor : ISheetDesk
{
    private const ulong UsualSeed = 1;

    private readonly ScreenOptions _options;
    private readonly TimeProvider _clock;
    private readonly Desk _own;
    private Desk? _practice;

    /// <summary>Opens on the desk of the store.</summary>
    public PracticeDoor(ScreenOptions options, TimeProvider clock)
    {
        (_options, _clock) = (options, clock);
        _own = ScreenProgram.DeskOf(options.Journal.Nature == StoreNature.Practice ? options : options with { StartPractice = Begin }, clock);
    }

    /// <summary>The desk that is shown.</summary>
    public Desk Now => _practice ?? _own;

    /// <inheritdoc/>
    public KeyScene Scene => Now.Scene;

    /// <inheritdoc/>
    public int Scrolled => Now.Scrolled;

    /// <inheritdoc/>
    public bool Left => _own.Left;

    /// <inheritdoc/>
    public string? Look => Now.Look;

    /// <inheritdoc/>
    public Sheet Show(int width, int height) => Now.Show(width, height);

    /// <inheritdoc/>
    public void Sized(int width, int height)
    {
        _own.Sized(width, height);
        _practice?.Sized(width, height);
    }

    /// <inheritdoc/>
    public void Do(KeyAct act) => Now.Do(act);

    /// <inheritdoc/>
    public bool Tick(long nowMs) => Now.Tick(nowMs);

    /// <inheritdoc/>
    public int TakeBells() => Now.TakeBells();

    /// <inheritdoc/>
    public void Report(Exception error) => Now.Report(error);

    // What is linked stays linked to a desk that nobody sees: that must not be.
    private void Begin()
    {
        if (_own.Link is { IsOpen: true } or { Opening: true })
        {
            _own.Say("The controller is linked. C closes the link, then S begins practice.");
            return;
        }

        _practice = ScreenProgram.DeskOf(
            _options with
            {
                Journal = new MemoryJournal(StoreNature.Practice, "practice", ProgramVersion.Number, _clock),
                Seed = UsualSeed,
                Machine = null,
                Link = null,
                Files = null,
                KnownPorts = null,
                StartPractice = null,
                EndPractice = End,
            },
            _clock);
        _practice.Say("Practice: simulated, nothing is kept. Q on the bench ends it.");
    }

    private void End()
    {
        _ = _practice?.Link?.DisposeAsync().AsTask();
        _practice = null;
        _own.Say("Practice is put away. Nothing of it was kept.");
    }
}

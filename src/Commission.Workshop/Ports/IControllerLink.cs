using System.Collections.Immutable;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;

namespace Commission.Workshop.Ports;

/// <summary>What is known of the controller at an instant.</summary>
/// <param name="Gate">The gate: state of trust, open box, what is under way, trouble.</param>
/// <param name="Age">Age of the last answer; null where there was none.</param>
/// <param name="Remark">What the person is to know of the port; null where nothing.</param>
public sealed record LinkSnapshot(Gate Gate, TimeSpan? Age, string? Remark)
{
    /// <summary>State in our words.</summary>
    public ControllerState State => Gate.Report?.State ?? ControllerState.Unknown;
}

/// <summary>How what was confirmed came out.</summary>
public abstract record MotionEnd
{
    private MotionEnd()
    {
    }

    /// <summary>It ended as expected, at rest.</summary>
    public sealed record Reached : MotionEnd;

    /// <summary>It was not begun.</summary>
    public sealed record NotBegun(string Why) : MotionEnd;

    /// <summary>It was stopped; the position is not trusted.</summary>
    public sealed record Stopped(string Why) : MotionEnd;
}

/// <summary>The link to a controller: the one class that sends. Everything that moves passes the gate inside.</summary>
public interface IControllerLink : IAsyncDisposable
{
    /// <summary>The dialect.</summary>
    Dialect Dialect { get; }

    /// <summary>What is known now.</summary>
    LinkSnapshot Now { get; }

    /// <summary>Raised after every change, on the link's own thread.</summary>
    event Action<LinkSnapshot>? Changed;

    /// <summary>Tells facts of the machine.</summary>
    void Tell(MotionFacts facts);

    /// <summary>Tells whether this is the machine it is taken for.</summary>
    void TellIdentity(bool confirmed);

    /// <summary>Asks for a box. Nothing moves by that.</summary>
    /// <returns>The box as drawn, or why not.</returns>
    Outcome<Confirmation> Ask(MotionAct act);

    /// <summary>Puts the box away.</summary>
    void Withdraw();

    /// <summary>A line typed in plain mode while a box is open; waits for the end where it confirms.</summary>
    Task<MotionEnd> ConfirmAsync(string token, CancellationToken cancellation);

    /// <summary>A key typed on a screen while a box is open or something moves; waits for the end where it confirms.</summary>
    Task<MotionEnd> ConfirmAsync(char key, CancellationToken cancellation);

    /// <summary>STOP. Returns at once; the bytes leave by the writing thread.</summary>
    void Stop(string why);

    /// <summary>The operator has read what happened.</summary>
    /// <param name="key">The key that says so.</param>
    /// <param name="losses"><see cref="Gate.Losses"/> when what was read was shown: what came after it still waits. Null where all of it was read.</param>
    void Understood(char key, int? losses = null);

    /// <summary>Trust is lost: a crash told, drives off.</summary>
    void LoseTrust(string why);

    /// <summary>The marked places were reached again.</summary>
    void ClosureChecked();

    /// <summary>Lists all settings as received.</summary>
    Task<Outcome<ImmutableArray<SavedSetting>>> SettingsAsync(CancellationToken cancellation);

    /// <summary>Writes one setting, only at rest; read it back afterwards. Takes trust away.</summary>
    Task<Outcome<SavedSetting>> WriteAsync(DialectSetting setting, string value, CancellationToken cancellation);
}

using System.Collections.Immutable;
using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;

namespace Commission.Core.Motion;

/// <summary>What one line, or a part of it, from a controller means.</summary>
public abstract record Answer
{
    private Answer()
    {
    }

    /// <summary>The line sent was taken.</summary>
    public sealed record Done : Answer;

    /// <summary>The line sent was refused.</summary>
    /// <param name="Code">Its code; empty where none was told.</param>
    public sealed record Refused(string Code) : Answer;

    /// <summary>An alarm.</summary>
    /// <param name="Code">Its code; empty where none was told.</param>
    public sealed record Alarm(string Code) : Answer;

    /// <summary>At work; the answer follows.</summary>
    public sealed record Busy : Answer;

    /// <summary>A line is asked for again.</summary>
    public sealed record Resend : Answer;

    /// <summary>It has restarted.</summary>
    public sealed record Greeting : Answer;

    /// <summary>State and position as told.</summary>
    public sealed record Status : Answer
    {
        /// <summary>The state in our words; null where the dialect tells none.</summary>
        public ControllerState? State { get; init; }

        /// <summary>Sub-number of the state word; null where there is none.</summary>
        public string? Code { get; init; }

        /// <summary>Machine position, mm.</summary>
        public MachinePosition? Machine { get; init; }

        /// <summary>Work position, mm.</summary>
        public MachinePosition? Work { get; init; }

        /// <summary>Machine less work position, mm.</summary>
        public MachinePosition? Offset { get; init; }

        /// <summary>Axes whose switch is pressed; null where this line does not tell.</summary>
        public ImmutableHashSet<AxisName>? Pressed { get; init; }
    }

    /// <summary>One switch as told by a line of its own.</summary>
    public sealed record Switch(AxisName Axis, bool Pressed) : Answer;

    /// <summary>A setting as received.</summary>
    public sealed record Setting(string Key, string Text) : Answer;

    /// <summary>A remark without meaning for this program.</summary>
    public sealed record Remark(string Text) : Answer;

    /// <summary>A line that this dialect does not know.</summary>
    public sealed record Noise(string Text) : Answer;
}

using System.Collections.Immutable;
using Commission.Core;

namespace Commission.Workshop.Ports;

/// <summary>A procedure's file.</summary>
/// <param name="File">Name, for messages.</param>
/// <param name="Text">What it holds.</param>
/// <param name="Own">Whether it is the user's own; otherwise it was shipped.</param>
public sealed record ProcedureText(string File, string Text, bool Own);

/// <summary>A procedure's file that cannot be used.</summary>
/// <param name="File">Name, for messages.</param>
/// <param name="Id">The id it would have; that of its name where it tells none.</param>
/// <param name="Problems">What is wrong with it.</param>
public sealed record BrokenProcedure(string File, string Id, ImmutableArray<Problem> Problems);

/// <summary>The procedures that came with the program, and those of the user's folder.</summary>
public interface IProcedureTexts
{
    /// <summary>All that can be read, the shipped ones first; and the files that cannot be.</summary>
    (ImmutableArray<ProcedureText> Texts, ImmutableArray<BrokenProcedure> Unreadable) All();
}

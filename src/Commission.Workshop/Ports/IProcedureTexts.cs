using Commission.Core;

namespace Commission.Workshop.Ports;

/// <summary>A procedure's file.</summary>
/// <param name="File">Name, for messages.</param>
/// <param name="Text">What it holds.</param>
/// <param name="Own">Whether it is the user's own; otherwise it was shipped.</param>
public sealed record ProcedureText(string File, string Text, bool Own);

/// <summary>The procedures that came with the program, and those of the user's folder.</summary>
public interface IProcedureTexts
{
    /// <summary>All of them, the shipped ones first; a file that cannot be read is a problem.</summary>
    Outcome<IReadOnlyList<ProcedureText>> All();
}

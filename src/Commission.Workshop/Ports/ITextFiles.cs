using Commission.Core;

namespace Commission.Workshop.Ports;

/// <summary>Text files that a person names.</summary>
public interface ITextFiles
{
    /// <summary>The whole text of a file, UTF-8 with or without a mark at its head.</summary>
    /// <returns>The text, or why it could not be read.</returns>
    Outcome<string> Read(string path);

    /// <summary>Whether a file of that name is there, so that writing would take its place.</summary>
    bool IsThere(string path);

    /// <summary>Writes a file whole: beside its place first, then moved there, so that a half-written file never takes the place of a whole one.</summary>
    /// <returns>The path, or why it could not be written.</returns>
    Outcome<string> Write(string path, string text);
}

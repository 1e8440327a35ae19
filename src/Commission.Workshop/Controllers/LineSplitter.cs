using System.Text;

namespace Commission.Workshop.Controllers;

/// <summary>Cuts bytes into lines: ended by LF, CR tolerated, one byte a character. What is too long is dropped up to the next line end.</summary>
internal sealed class LineSplitter
{
    private const int Longest = 1024;

    private readonly StringBuilder line = new();
    private bool skipping;

    /// <summary>The complete lines in these bytes.</summary>
    public IEnumerable<string> Feed(ReadOnlyMemory<byte> bytes)
    {
        for (var i = 0; i < bytes.Length; i++)
        {
            var letter = (char)bytes.Span[i];
            if (letter == '\n')
            {
                var complete = skipping ? null : line.ToString();
                line.Clear();
                skipping = false;
                if (complete is not null)
                    yield return complete;
            }
            else if (letter != '\r' && !skipping)
            {
                line.Append(letter);
                skipping = line.Length > Longest;
            }
        }
    }
}

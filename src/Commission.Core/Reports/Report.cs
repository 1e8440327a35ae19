using System.Collections.Immutable;
using Commission.Core.Characteristics;

namespace Commission.Core.Reports;

/// <summary>A document as data; Markdown, HTML and CSV are written from the same value.</summary>
public sealed record Report
{
    /// <summary>Title, one line.</summary>
    public required string Title { get; init; }

    /// <summary>The instant for which ages hold.</summary>
    public required DateTimeOffset AsOf { get; init; }

    /// <summary>Whether it tells of the practice machine.</summary>
    public required bool Practice { get; init; }

    /// <summary>Whether it is one page to hang up, set small.</summary>
    public bool OnePage { get; init; }

    /// <summary>The sections, findings first.</summary>
    public required ImmutableArray<ReportSection> Sections { get; init; }
}

/// <summary>A section with its heading.</summary>
/// <param name="Title">Heading.</param>
/// <param name="Level">1 for a section, 2 for a part of the one before.</param>
/// <param name="Blocks">What stands in it.</param>
public sealed record ReportSection(string Title, int Level, ImmutableArray<ReportBlock> Blocks);

/// <summary>A piece of a section.</summary>
public abstract record ReportBlock
{
    private ReportBlock()
    {
    }

    /// <summary>A paragraph.</summary>
    /// <param name="Text">Its words.</param>
    public sealed record Paragraph(string Text) : ReportBlock;

    /// <summary>A list of lines.</summary>
    /// <param name="Lines">The lines.</param>
    public sealed record Items(ImmutableArray<string> Lines) : ReportBlock;

    /// <summary>Lines as they stand, indented as they are.</summary>
    /// <param name="Text">The lines.</param>
    public sealed record Verbatim(ImmutableArray<string> Text) : ReportBlock;

    /// <summary>A table.</summary>
    /// <param name="Name">What its rows are, one word: the first column of the CSV form.</param>
    /// <param name="Headers">Headers, with units.</param>
    /// <param name="Rows">Rows of cells.</param>
    public sealed record Table(string Name, ImmutableArray<string> Headers, ImmutableArray<ImmutableArray<ReportCell>> Rows) : ReportBlock
    {
        /// <summary>Whether it is long, and a page may tell once above it what is the same in every row. Forms for machines keep every cell.</summary>
        public bool Long { get; init; }
    }

    /// <summary>A picture.</summary>
    /// <param name="Figure">The picture as data.</param>
    public sealed record Picture(Figure Figure) : ReportBlock;
}

/// <summary>A cell of a table: text of people, or a number of ours.</summary>
/// <param name="Text">What is shown.</param>
/// <param name="IsNumber">Whether it is a number: numbers are never touched when cells are made harmless for spreadsheets.</param>
public readonly record struct ReportCell(string Text, bool IsNumber = false)
{
    /// <summary>A cell of text.</summary>
    public static implicit operator ReportCell(string text) => new(text);
}

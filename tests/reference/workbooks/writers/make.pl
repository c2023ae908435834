# The book of Excel::Writer::XLSX; called by make.py with the cells and where to write.
use strict;
use warnings;
use JSON::PP;
use Excel::Writer::XLSX;

my ( $content, $out ) = @ARGV;
open my $file, '<', $content or die $!;
my $cells = decode_json( do { local $/; <$file> } );
my $book  = Excel::Writer::XLSX->new("$out/perl.xlsx") or die $!;
my $bold  = $book->add_format( bold => 1, bg_color => '#FFF2CC' );
my $date  = $book->add_format( num_format => 'yyyy/mm/dd' );
my $month = $book->add_format( num_format => 'mm/yyyy' );
my $sheet = $book->add_worksheet('Equipment');
$sheet->write_row( 0, 0, $cells->{headings}, $bold );
my $row = 1;
for my $line ( @{ $cells->{rows} } ) {
    my ( $device, $site, $set, $cushion, $status ) = @$line;
    $sheet->write_string( $row, 0, $device );
    $sheet->write_string( $row, 1, $site );
    $sheet->write_date_time( $row, 2, "${set}T", $date );
    $sheet->write_date_time( $row, 3, "${cushion}T", $date );
    $sheet->write_string( $row, 4, $status );
    my $formula = $cells->{formula};
    my $number  = $row + 1;
    $formula =~ s/\{0\}/$number/;
    $sheet->write_formula( $row, 5, "=$formula", undef, $cells->{ages}[ $row - 1 ] );
    $row++;
}
$sheet->write_comment( 'D4', 'Old stock.' );
$sheet->autofilter('A1:F10');
$sheet->freeze_panes( 1, 0 );
$sheet->set_column( 'C:D', 20 );
$sheet->set_row( 5, 24 );
$sheet->data_validation( 'E2:E10', { validate => 'list', value => [ 'In service', 'Retired' ] } );
$sheet->conditional_formatting( 'F2:F10', { type => '3_color_scale' } );
my $counts = $book->add_worksheet('Sessions');
$counts->write( 0, 0, 'Device' );
my $column = 1;
$counts->write_date_time( 0, $column++, "${_}T", $month ) for @{ $cells->{months} };
$row = 1;
$counts->write_row( $row++, 0, $_ ) for @{ $cells->{sessions} };
$book->define_name( 'Devices', '=Equipment!$A$2:$A$10' );
$book->close();
